// SPDX-License-Identifier: Apache-2.0

package app

import (
	"encoding/json"
	"fmt"
	"os"

	"boardhand/internal/chess"
	"boardhand/internal/rehearsal"
	"boardhand/internal/session"
	"boardhand/internal/table/journal"
	"boardhand/internal/terminal"
)

// evidenceVariable holds, for a program that is to be killed, what it plays and
// where its umpire writes.
const evidenceVariable = "BOARDHAND_EVIDENCE"

// evidence says what a program plays that an umpire watches and a test kills.
type evidence struct {
	Rig    string // file
	Games  string // folder
	World  string // file of the twin's table
	Report string // file: a line for each time that game and table differ
	Plies  int
	Seed   int64
}

// playWatched plays as `play RIG --continue --world W --leave` does, with an
// umpire, and returns the exit code.
func playWatched(spec string) int {
	var e evidence
	if err := json.Unmarshal([]byte(spec), &e); err != nil {
		panic(err)
	}
	ctx, stop := untilInterrupted()
	defer stop()
	f := session.Options{Games: e.Games, Addr: "127.0.0.1:0", Keep: defaultKeep, GoOn: true, World: e.World, Pace: 100,
		Leave: true, Plies: e.Plies, Seed: e.Seed, Input: os.Stdin, Told: umpire{e.Report}.compare}
	return exitCode(ctx, os.Stderr, session.Play(ctx, &terminal.Out{W: os.Stdout, Err: os.Stderr}, f, []string{e.Rig}))
}

// umpire compares what the machine holds for true with the twin's table.
type umpire struct{ report string }

// compare looks at what a record claims.
func (u umpire) compare(e *session.Session, r journal.Record) {
	truth := e.Bench.World.Truth()
	pos := e.Game.Position()
	var wrong []string
	switch r.What {
	case journal.GuestMoved, journal.GuestNamed, journal.MachineMoved, journal.PositionSeen:
		wrong = rehearsal.Differing(truth, allowances(pos, e.Past.Decided, r, chess.ColorNamed(e.Rig.Play.Side)))
	case journal.TakenBack:
		wrong = rehearsal.Differing(truth, []rehearsal.Allowance{rehearsal.At(pos)})
	case journal.SetUpDone:
		wrong = rehearsal.Differing(truth, []rehearsal.Allowance{rehearsal.At(chess.Start())})
	default:
		return
	}
	if r.What != journal.PositionSeen {
		wrong = append(wrong, rehearsal.Misplaced(truth, e.Table.Standing(), e.Rig.Slots())...)
	}
	for _, w := range wrong {
		u.write(fmt.Sprintf("%s %s (ply %d, %s): %s", r.State, r.Prose(), len(e.Game.Moves), pos.FEN(), w))
	}
}

func (u umpire) write(line string) {
	f, err := os.OpenFile(u.report, os.O_APPEND|os.O_CREATE|os.O_WRONLY, 0o600)
	if err != nil {
		panic(err)
	}
	defer func() { _ = f.Close() }()
	if _, err := fmt.Fprintln(f, line); err != nil {
		panic(err)
	}
}

// allowances are the boards that may truly stand there when a record says that
// the game's position does. A guest who is to move may be at it.
func allowances(pos chess.Position, decided chess.Move, r journal.Record, machine chess.Color) []rehearsal.Allowance {
	at := rehearsal.At(pos)
	switch {
	case pos.SideToMove() != machine:
		return append(rehearsal.GuestsMoves(pos), at)
	case r.What == journal.PositionSeen && decided != 0 && pos.Legal(decided):
		return []rehearsal.Allowance{rehearsal.InMove(pos, decided)}
	}
	return []rehearsal.Allowance{at}
}
