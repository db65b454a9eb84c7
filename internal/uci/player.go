// Package uci lets an outside player choose the machine's moves: a program
// that speaks the Universal Chess Interface (S. Meyer-Kahlen, April 2004) on
// its standard input and output.
package uci

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"os/exec"
	"strconv"
	"strings"
	"time"

	"boardhand/internal/chess"
)

// Player is one running outside player. It serves one goroutine.
type Player struct {
	Name  string // as it calls itself
	cmd   *exec.Cmd
	in    io.WriteCloser
	lines chan string // closed when the program ends
}

// Limits bound one thought; a zero field does not.
type Limits struct {
	Time  time.Duration
	Depth int
	Nodes uint64
}

// Thought is the player's answer.
type Thought struct {
	Move    chess.Move
	ScoreCP int // from the side to move
	Mate    int // moves; negative: gets mated; 0: no mate seen
	Depth   int
	Nodes   uint64
	PV      []chess.Move
}

// Times that a well-behaved player keeps.
const (
	startTime = 10 * time.Second // to say uciok, and readyok
	stopTime  = 5 * time.Second  // to answer after stop
	longLine  = 1 << 20          // bytes; a longer line is not the protocol
)

// Start runs the command (words split at blanks; no shell) and shakes hands.
func Start(ctx context.Context, command string) (*Player, error) {
	words := strings.Fields(command)
	if len(words) == 0 {
		return nil, errors.New("uci: needs the command of a player behind it, like uci:/usr/games/player")
	}
	cmd := exec.CommandContext(ctx, words[0], words[1:]...)
	in, err := cmd.StdinPipe()
	if err != nil {
		return nil, err
	}
	out, err := cmd.StdoutPipe()
	if err != nil {
		return nil, err
	}
	if err := cmd.Start(); err != nil {
		return nil, fmt.Errorf("the player %q cannot be started: %w", command, err)
	}
	p := &Player{Name: words[0], cmd: cmd, in: in, lines: make(chan string, 64)}
	go p.read(out)
	if err := p.greet(ctx); err != nil {
		p.Close()
		return nil, fmt.Errorf("the player %q: %w", command, err)
	}
	return p, nil
}

// read hands over lines until the program ends.
func (p *Player) read(out io.Reader) {
	defer close(p.lines)
	s := bufio.NewScanner(out)
	s.Buffer(make([]byte, 0, 4096), longLine)
	for s.Scan() {
		p.lines <- strings.TrimRight(s.Text(), "\r")
	}
	_, _ = io.Copy(io.Discard, out) // a line too long: let the program end in peace
}

func (p *Player) greet(ctx context.Context) error {
	if err := p.say("uci"); err != nil {
		return err
	}
	name := func(line string) {
		if n, ok := strings.CutPrefix(line, "id name "); ok {
			p.Name = n
		}
	}
	if err := p.await(ctx, "uciok", name); err != nil {
		return err
	}
	if err := p.say("ucinewgame\nisready"); err != nil {
		return err
	}
	return p.await(ctx, "readyok", nil)
}

func (p *Player) say(text string) error {
	if _, err := io.WriteString(p.in, text+"\n"); err != nil {
		return fmt.Errorf("it does not listen any more: %w", err)
	}
	return nil
}

// await reads lines until one starts with word; the others go to see.
func (p *Player) await(ctx context.Context, word string, see func(string)) error {
	ctx, cancel := context.WithTimeoutCause(ctx, startTime, fmt.Errorf("it did not say %s within %v: does it speak UCI?", word, startTime))
	defer cancel()
	for {
		line, err := p.line(ctx)
		if err != nil {
			return err
		}
		if f := strings.Fields(line); len(f) > 0 && f[0] == word {
			return nil
		}
		if see != nil {
			see(line)
		}
	}
}

func (p *Player) line(ctx context.Context) (string, error) {
	select {
	case <-ctx.Done():
		return "", context.Cause(ctx)
	case line, ok := <-p.lines:
		if !ok {
			return "", errors.New("it has ended by itself")
		}
		return line, nil
	}
}

// Think has the player choose a move in a game.
func (p *Player) Think(ctx context.Context, g *chess.Game, lim Limits) (Thought, error) {
	if lim == (Limits{}) {
		return Thought{}, errors.New("say how long the player may think: time, depth or nodes")
	}
	start := g.Start
	text := "position fen " + start.FEN()
	if len(g.Moves) > 0 {
		text += " moves"
		for _, m := range g.Moves {
			text += " " + m.String()
		}
	}
	if err := p.say(text + "\n" + lim.command()); err != nil {
		return Thought{}, err
	}
	pos := g.Position()
	return p.listen(ctx, &pos)
}

func (l Limits) command() string {
	s := "go"
	if l.Time > 0 {
		s += fmt.Sprintf(" movetime %d", max(1, l.Time.Milliseconds()))
	}
	if l.Depth > 0 {
		s += fmt.Sprintf(" depth %d", l.Depth)
	}
	if l.Nodes > 0 {
		s += fmt.Sprintf(" nodes %d", l.Nodes)
	}
	return s
}

// listen reads until bestmove. When ctx ends it says stop and takes the
// answer that the protocol then demands, so that the next thought starts clean.
func (p *Player) listen(ctx context.Context, pos *chess.Position) (Thought, error) {
	var t Thought
	stopped := error(nil)
	wait := ctx
	for {
		line, err := p.line(wait)
		if err != nil && wait == ctx && ctx.Err() != nil {
			stopped = ctx.Err()
			if err := p.say("stop"); err != nil {
				return t, err
			}
			late, cancel := context.WithTimeout(context.WithoutCancel(ctx), stopTime)
			defer cancel()
			wait = late
			continue
		}
		if err != nil {
			return t, err
		}
		f := strings.Fields(line)
		switch {
		case len(f) > 1 && f[0] == "bestmove":
			if t.Move, err = pos.ParseUCI(f[1]); err != nil {
				return t, fmt.Errorf("the player %s answered %s: %w", p.Name, f[1], err)
			}
			return t, stopped
		case len(f) > 1 && f[0] == "info":
			t.note(f[1:], pos)
		}
	}
}

// note takes what an info line tells; words it does not know are passed over.
func (t *Thought) note(f []string, pos *chess.Position) {
	for i := 0; i+1 < len(f); i++ {
		n, err := strconv.Atoi(f[i+1])
		switch f[i] {
		case "depth":
			if err == nil {
				t.Depth = n
			}
		case "nodes":
			if v, err := strconv.ParseUint(f[i+1], 10, 64); err == nil {
				t.Nodes = v
			}
		case "cp":
			if err == nil {
				t.ScoreCP, t.Mate = n, 0
			}
		case "mate":
			if err == nil {
				t.Mate = n
			}
		case "string":
			return // the rest is free text
		case "pv":
			t.PV = line(*pos, f[i+1:])
			return
		}
	}
}

// line reads legal moves up to the first that is none.
func line(pos chess.Position, words []string) []chess.Move {
	var out []chess.Move
	for _, w := range words {
		m, err := pos.ParseUCI(w)
		if err != nil {
			break
		}
		out = append(out, m)
		pos = pos.After(m)
	}
	return out
}

// Close tells the player to quit and ends it if it does not.
func (p *Player) Close() {
	_ = p.say("quit")
	_ = p.in.Close()
	timer := time.AfterFunc(stopTime, func() { _ = p.cmd.Process.Kill() })
	defer timer.Stop()
	for range p.lines {
	}
	_ = p.cmd.Wait()
}
