// SPDX-License-Identifier: Apache-2.0

// Package uci lets an outside player choose the machine's moves: a program
// that speaks the Universal Chess Interface (S. Meyer-Kahlen, April 2004) on
// its standard input and output. Whatever that program does, a call ends: with
// a move, or within the limits and the patience with an error that says why
// there is none.
package uci

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"
	"time"

	"boardhand/internal/chess"
)

// Player is one running outside player. It serves one goroutine. After an
// error other than the context's and WrongError it is of no use any more.
type Player struct {
	Name string // as it calls itself; print it quoted

	p        *process
	patience Patience
	owes     bool // an answer to the last go
	unready  int  // questions isready without an answer
}

// WrongError is an answer that is no legal move.
type WrongError struct {
	Name   string // of the player
	Answer string // "" when nothing stood behind bestmove
	Why    error
}

// Error says what was answered.
func (e *WrongError) Error() string {
	if e.Answer == "" {
		return fmt.Sprintf("the player %s answered without a move", quoted(e.Name, shortText))
	}
	return fmt.Sprintf("the player %s answered %s: %v", quoted(e.Name, shortText), quoted(e.Answer, shortText), e.Why)
}

// Unwrap is why the answer is wrong.
func (e *WrongError) Unwrap() error { return e.Why }

// errLate says that a player was waited for long enough.
var errLate = errors.New("it does not answer")

// Start runs the command, split by Words, shakes hands, and sets the player's options as
// the settings say, each NAME=VALUE.
func Start(ctx context.Context, command string, patience Patience, settings ...string) (*Player, error) {
	words, err := Words(command)
	if err != nil {
		return nil, err
	}
	proc, err := launch(words)
	if err != nil {
		return nil, fmt.Errorf("the player %q cannot be started: %w", command, err)
	}
	p := &Player{Name: words[0], p: proc, patience: patience.usual()}
	if err := p.greet(ctx, settings); err != nil {
		p.Kill()
		return nil, fmt.Errorf("the player %q: %w", command, err)
	}
	return p, nil
}

func (p *Player) greet(ctx context.Context, settings []string) error {
	late := p.patience.After(p.patience.Start)
	if err := p.say("uci"); err != nil {
		return err
	}
	var told []string
	for line := ""; !isWord(line, "uciok"); {
		var err error
		if line, err = p.next(ctx, late); err != nil {
			return p.slow(err, "uciok", p.patience.Start)
		}
		if n, ok := strings.CutPrefix(line, "id name "); ok {
			p.Name = n
		}
		if n, ok := optionName(line); ok {
			told = append(told, n)
		}
	}
	if err := p.set(settings, told); err != nil {
		return err
	}
	if err := p.say("ucinewgame"); err != nil {
		return err
	}
	return p.ready(ctx, late, p.patience.Start)
}

// slow says what was not heard in time.
func (p *Player) slow(err error, word string, within time.Duration) error {
	if errors.Is(err, errLate) {
		return fmt.Errorf("it did not say %s within %v: does it speak UCI?%s", word, within, p.lastWords())
	}
	return err
}

// isWord says whether a line begins with a word.
func isWord(line, word string) bool {
	f := strings.Fields(line)
	return len(f) > 0 && f[0] == word
}

// ready passes over everything that was said before the player is ready for
// another question.
func (p *Player) ready(ctx context.Context, late <-chan time.Time, within time.Duration) error {
	p.unready++
	if err := p.say("isready"); err != nil {
		return err
	}
	for p.unready > 0 || p.owes {
		line, err := p.next(ctx, late)
		if err != nil {
			return p.slow(err, "readyok", within)
		}
		switch {
		case isWord(line, "readyok"):
			p.unready = max(p.unready-1, 0)
		case isWord(line, "bestmove"):
			p.owes = false
		}
	}
	return nil
}

// say writes to the player.
func (p *Player) say(text string) error {
	_ = p.p.in.SetWriteDeadline(time.Now().Add(p.patience.Grace))
	if _, err := io.WriteString(p.p.in, text+"\n"); err != nil {
		return p.gone("it does not listen any more")
	}
	return nil
}

// next is the next line. Of a player that talks without a break no more is
// heard than fits into the time.
func (p *Player) next(ctx context.Context, late <-chan time.Time) (string, error) {
	select {
	case <-ctx.Done():
		return "", ctx.Err()
	case <-late:
		return "", errLate
	case line, ok := <-p.p.lines:
		if !ok {
			return "", p.gone("it has closed its output")
		}
		return line, nil
	}
}

// gone says how the player ended, or what else is wrong if it did not.
func (p *Player) gone(otherwise string) error {
	select {
	case <-p.p.ended:
		return fmt.Errorf("it has ended by itself (%s)%s", p.p.status, p.lastWords())
	case <-p.patience.After(p.patience.Grace):
		return errors.New(otherwise + p.lastWords())
	}
}

// lastWords are what the player wrote on its error output, as an ending of a
// sentence; "" when nothing.
func (p *Player) lastWords() string {
	if s := p.p.words.String(); s != "" {
		return "; its last words were " + s
	}
	return ""
}

// Think has the player choose a move in a game. When ctx ends it returns at
// once; what the player still says is no answer to a later question.
func (p *Player) Think(ctx context.Context, g *chess.Game, lim Limits) (Thought, error) {
	if lim == (Limits{}) {
		return Thought{}, errors.New("say how long the player may think: time, depth or nodes")
	}
	pos := g.Position()
	if len(pos.LegalMoves(nil)) == 0 {
		return Thought{}, fmt.Errorf("there is no move to find in %s", pos.FEN())
	}
	if err := p.ready(ctx, p.patience.After(p.patience.Grace), p.patience.Grace); err != nil {
		return Thought{}, p.named(err)
	}
	p.owes = true
	if err := p.say(placing(g) + "\n" + lim.command()); err != nil {
		return Thought{}, p.named(err)
	}
	t, err := p.listen(ctx, &pos, lim)
	return t, p.named(err)
}

// named says of whom an error tells.
func (p *Player) named(err error) error {
	var wrong *WrongError
	if err == nil || errors.As(err, &wrong) {
		return err
	}
	return fmt.Errorf("the player %s: %w", quoted(p.Name, shortText), err)
}

// placing is the command that sets a game up.
func placing(g *chess.Game) string {
	start := g.Start
	text := "position fen " + start.FEN()
	if len(g.Moves) > 0 {
		text += " moves"
		for _, m := range g.Moves {
			text += " " + m.String()
		}
	}
	return text
}

// listen reads until bestmove. A player that does not keep to its limits is
// told to stop.
func (p *Player) listen(ctx context.Context, pos *chess.Position, lim Limits) (Thought, error) {
	var t Thought
	var late <-chan time.Time
	if lim.Time > 0 {
		late = p.patience.After(lim.Time + p.patience.Grace)
	}
	for stopped := false; ; {
		line, err := p.next(ctx, late)
		switch {
		case err != nil && ctx.Err() != nil:
			_ = p.say("stop")
			return t, err
		case errors.Is(err, errLate) && stopped:
			return t, fmt.Errorf("it does not answer, not even within %v after stop%s", p.patience.Grace, p.lastWords())
		case err != nil && !errors.Is(err, errLate):
			return t, err
		case isWord(line, "bestmove"):
			p.owes = false
			return t, p.answer(&t, pos, strings.Fields(line)[1:])
		case isWord(line, "info"):
			t.note(strings.Fields(line)[1:], pos)
		}
		if !stopped && (err != nil || lim.isPassed(t)) {
			stopped, late = true, p.patience.After(p.patience.Grace)
			if err := p.say("stop"); err != nil {
				return t, err
			}
		}
	}
}

// answer takes the words behind bestmove.
func (p *Player) answer(t *Thought, pos *chess.Position, words []string) (err error) {
	if len(words) == 0 {
		return &WrongError{Name: p.Name}
	}
	if t.Move, err = pos.ParseUCI(words[0]); err != nil {
		return &WrongError{Name: p.Name, Answer: words[0], Why: err}
	}
	return nil
}

// Close tells the player to quit and ends it, and all that it started, if it
// does not.
func (p *Player) Close() {
	_ = p.say("quit")
	_ = p.p.in.Close()
	lines, late := p.p.lines, p.patience.After(p.patience.Quit)
	for {
		select {
		case _, ok := <-lines:
			if !ok {
				lines = nil
			}
		case <-late:
			p.Kill()
			return
		case <-p.p.ended:
			p.p.bury()
			return
		}
	}
}

// Kill ends the player, and all that it started, at once.
func (p *Player) Kill() {
	p.p.kill()
	go p.p.bury()
}
