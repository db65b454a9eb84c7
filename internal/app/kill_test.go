// SPDX-License-Identifier: Apache-2.0

package app

import (
	"bufio"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"boardhand/internal/chess"
	"boardhand/internal/rehearsal"
	"boardhand/internal/rig"
	"boardhand/internal/session"
	"boardhand/internal/store"
	"boardhand/internal/table/journal"
	"boardhand/internal/table/places"
	"boardhand/internal/terminal"
	"boardhand/internal/twin"
)

// killed is one standing table at which a program is killed again and again.
type killed struct {
	t      *testing.T
	spec   evidence
	chance *rand.Rand
	kept   []string // what the entries of all games say, as last looked at
	said   []string // by the program that runs
	proc   *exec.Cmd
	keys   io.WriteCloser
	lines  chan string
	wrongs int  // lines of the umpire that have been counted
	silent bool // nothing was heard for too long
}

// newKilled sets a table in mid-game: the machine is about to take.
func newKilled(t *testing.T, rigFile string, plies int, seed int64) *killed {
	t.Helper()
	r, err := rig.Load(rigFile, rig.Machine)
	if err != nil {
		t.Fatal(err)
	}
	where := "person"
	if r.Removal.Mode == "tray" {
		where = "slot28"
	}
	opening := append(moves("e2e4", "d7d5", "e4d5"), store.Entry{At: time.Now(), State: "thinking", Note: "decided: Qxd5", Decided: "d8d5",
		Standing: "rnbqkbnr/ppp1pppp/8/3P4/8/8/PPPP1PPP/RNBQKBNR p@" + where})
	k := &killed{t: t, chance: rand.New(rand.NewPCG(uint64(seed), 7)), spec: evidence{Rig: rigFile, Games: keepGame(t, rigFile, opening...),
		Plies: plies, Seed: seed}}
	k.spec.World, k.spec.Report = filepath.Join(k.spec.Games, "world.json"), filepath.Join(k.spec.Games, "report.txt")
	k.kept, _ = k.entries()
	return k
}

// start starts the program at the table as it stands.
func (k *killed) start() {
	k.t.Helper()
	text, err := json.Marshal(k.spec)
	if err != nil {
		k.t.Fatal(err)
	}
	k.proc, k.lines, k.said = exec.Command(os.Args[0]), make(chan string, 1000), nil
	k.proc.Env = append(os.Environ(), evidenceVariable+"="+string(text))
	k.proc.Stderr = os.Stderr
	if k.keys, err = k.proc.StdinPipe(); err != nil {
		k.t.Fatal(err)
	}
	pipe, err := k.proc.StdoutPipe()
	if err != nil {
		k.t.Fatal(err)
	}
	if err := k.proc.Start(); err != nil {
		k.t.Fatal(err)
	}
	lines := k.lines
	go func() {
		defer close(lines)
		for s := bufio.NewScanner(pipe); s.Scan(); {
			lines <- s.Text()
		}
	}()
}

// patienceFor bounds how long nothing may be heard of a program; it decides
// nothing but that a game is given up as stuck.
const patienceFor = 15 * time.Minute

// next waits for a line of the log; false when the program has ended, or is stuck.
func (k *killed) next() (state, text string, ok bool) {
	for {
		select {
		case l, open := <-k.lines:
			if !open {
				return "", "", false
			}
			if len(l) > 11 && l[10] == ' ' && !strings.HasPrefix(l, "The pages") {
				state = strings.TrimSpace(l[:10])
				if _, isState := journal.Rules[journal.State(state)]; isState || state == string(journal.Removal) {
					k.said = append(k.said, l[11:])
					return state, l[11:], true
				}
			}
		case <-time.After(patienceFor):
			k.silent = true
			return "", "", false
		}
	}
}

// types types a line; a program that has just ended does not read it.
func (k *killed) types(line string) { _, _ = io.WriteString(k.keys, line+"\n") }

// kill kills the program; one that had ended with an error is told of.
func (k *killed) kill() (failed []string) {
	_ = k.proc.Process.Kill()
	if err := k.proc.Wait(); err != nil && k.proc.ProcessState.Exited() {
		return []string{"the program ended: " + err.Error()}
	}
	return nil
}

// steps waits until the world's file has changed n times, or stands still.
func (k *killed) steps(n int) {
	var last time.Time
	for still := 0; n > 0 && still < 1500; still++ {
		if info, err := os.Stat(k.spec.World); err == nil && info.ModTime() != last {
			if !last.IsZero() {
				n, still = n-1, 0
			}
			last = info.ModTime()
		}
		time.Sleep(time.Millisecond)
	}
}

// moment is when a program is killed, in its own progress.
type moment struct {
	state string        // first it enters this state, if it does within …
	lines int           // … so many lines of its log
	steps int           // then its world changes so often
	delay time.Duration // and a little later still
	types string        // typed when the guest is to move
}

func (m moment) String() string {
	return fmt.Sprintf("%s within %d lines, %d steps, %v, types %q", m.state, m.lines, m.steps, m.delay, m.types)
}

// mostAwaited is how many lines a state is waited for.
const mostAwaited = 24

// drawMoment draws one: at the very start, while the axes find their zeros, or
// in one of the states.
func drawMoment(chance *rand.Rand) moment {
	m := moment{delay: time.Duration(chance.IntN(20_000)) * time.Microsecond}
	switch n := chance.IntN(10); {
	case n == 0:
		return m
	case n == 1:
		m.steps = 1 + chance.IntN(12)
		return m
	}
	states := []journal.State{journal.Setting, journal.Guesting, journal.Reading, journal.Thinking, journal.Removal, journal.Carrying, journal.Carrying,
		journal.Carrying, journal.Verifying, journal.Undoing, journal.Undoing, journal.Arranging}
	s := states[chance.IntN(len(states))]
	m.state, m.lines, m.steps = string(s), mostAwaited, chance.IntN(40)
	switch s {
	case journal.Undoing:
		m.types = "back " + strconv.Itoa(1+chance.IntN(2))
	case journal.Arranging:
		m.types = "new"
	}
	return m
}

// until runs the program to a moment; false when it ended before.
func (k *killed) until(m moment) bool {
	for range m.lines {
		state, text, ok := k.next()
		if !ok {
			return false
		}
		if m.types != "" && state == string(journal.Guesting) && strings.Contains(text, "Your move") {
			k.types(m.types)
			m.types = ""
		}
		if state == m.state {
			break
		}
	}
	k.steps(m.steps)
	time.Sleep(m.delay)
	return true
}

// entries is what is kept of all games, and in which state the last was written.
func (k *killed) entries() (notes []string, last string) {
	k.t.Helper()
	s, _, err := store.OpenToRead(k.spec.Games)
	if err != nil {
		k.t.Fatal(err)
	}
	defer func() { _ = s.Close() }()
	games, err := s.Games(context.Background())
	if err != nil {
		k.t.Fatal(err)
	}
	for i := len(games) - 1; i >= 0; i-- {
		es, err := s.Entries(context.Background(), games[i].ID)
		if err != nil {
			k.t.Fatal(err)
		}
		for _, e := range es {
			if e.Damaged != nil {
				k.t.Errorf("damaged: %v", e.Damaged)
			}
			notes, last = append(notes, e.Note), e.State
		}
	}
	return notes, last
}

// lost lists entries that were kept, or printed and therefore kept, and are no
// longer there.
func (k *killed) lost(now []string) (out []string) {
	if len(now) < len(k.kept) {
		return []string{fmt.Sprintf("%d entries were kept, %d are there", len(k.kept), len(now))}
	}
	for i, note := range k.kept {
		if now[i] != note {
			out = append(out, fmt.Sprintf("entry %q is now %q", note, now[i]))
		}
	}
	at := len(k.kept)
	for _, line := range k.said {
		for at < len(now) && now[at] != line {
			at++
		}
		if at == len(now) {
			return append(out, fmt.Sprintf("printed and not kept: %q", line))
		}
		at++
	}
	return out
}

// takenUp is what the next program would go on with.
func (k *killed) takenUp() (journal.Past, *rig.Rig, error) {
	r, err := rig.Load(k.spec.Rig, rig.Machine)
	if err != nil {
		return journal.Past{}, nil, err
	}
	s, _, err := store.OpenToRead(k.spec.Games)
	if err != nil {
		return journal.Past{}, nil, err
	}
	defer func() { _ = s.Close() }()
	e := &session.Session{Out: &terminal.Out{W: io.Discard, Err: io.Discard}, Store: s, Rig: r, Options: session.Options{GoOn: true}}
	err = e.TakeUp(context.Background())
	return e.Past, r, err
}

// truth is the table as the killed program left it.
func (k *killed) truth(r *rig.Rig, fen string) (twin.Truth, error) {
	text, err := os.ReadFile(k.spec.World)
	if err != nil {
		return twin.Truth{}, err
	}
	copied := filepath.Join(k.t.TempDir(), "world.json")
	if err := os.WriteFile(copied, text, 0o600); err != nil {
		return twin.Truth{}, err
	}
	w, err := twin.New(r, twin.Options{Keep: copied, FEN: fen})
	if err != nil {
		return twin.Truth{}, err
	}
	return w.Truth(), nil
}

// wrong lists what is not right after a kill: entries lost, pieces that do not
// exist once, a table that is not the position to go on with.
func (k *killed) wrong() (out []string, state string) {
	k.t.Helper()
	now, state := k.entries()
	out = k.lost(now)
	if len(now) == len(k.kept) {
		state = "before the first entry"
	}
	k.kept = now
	if _, err := os.Stat(k.spec.World); err != nil {
		return out, state // no table yet
	}
	past, r, err := k.takenUp()
	if err != nil {
		return append(out, err.Error()), state
	}
	pos := past.Game.Position()
	truth, err := k.truth(r, pos.FEN())
	if err != nil {
		return append(out, err.Error()), state
	}
	out = append(out, census(truth)...)
	return append(out, rehearsal.Differing(truth, rehearsal.GoingOn(past, chess.ColorNamed(r.Play.Side)))...), state
}

// census lists the kinds of which there are more or fewer than in a set.
func census(truth twin.Truth) (out []string) {
	n := map[chess.Piece]int{}
	for _, p := range places.StandingOf(chess.Start()).Board {
		n[p]--
	}
	delete(n, chess.NoPiece)
	for _, m := range truth.Pieces {
		n[m.Piece]++
	}
	for p, more := range n {
		if more != 0 {
			out = append(out, fmt.Sprintf("%+d %v in the room", more, p))
		}
	}
	return out
}

// reported are the umpire's lines since the last time.
func (k *killed) reported() []string {
	text, err := os.ReadFile(k.spec.Report)
	if err != nil {
		return nil
	}
	all := strings.Split(strings.TrimSpace(string(text)), "\n")
	out := all[k.wrongs:]
	k.wrongs = len(all)
	return out
}
