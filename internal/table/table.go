// SPDX-License-Identifier: Apache-2.0

package table

import (
	"context"

	"boardhand/internal/chess"
	"boardhand/internal/table/carriage"
	"boardhand/internal/table/desk"
	"boardhand/internal/table/journal"
	"boardhand/internal/table/lookout"
	"boardhand/internal/table/model"
	"boardhand/internal/table/places"
	"boardhand/internal/table/view"
)

// Table is one game being played.
type Table struct {
	kit      *kit
	exam     *examiner
	sheet    *scoresheet
	recovery *recovery
	carrier  *carrier
	does     map[journal.State]handler
}

// handler does what one state does and says what comes next, and why.
type handler func(ctx context.Context) (journal.Turn, error)

// New sets a table for a game as it was left. observe may be nil; it is called
// from Run's goroutine.
func New(p Parts, s Settings, past journal.Past, observe func(Event)) *Table {
	k := &kit{Parts: p, Settings: s, m: model.NewModel(s.Machine, past), job: journal.NewJob(past.Task)}
	kept := ""
	if past.Standing != nil {
		kept = past.Standing.String()
	}
	t := &Table{kit: k, exam: &examiner{kit: k}, sheet: &scoresheet{k}, carrier: &carrier{k, &asker{k}}}
	t.recovery = &recovery{kit: k, sheet: t.sheet}
	k.d = desk.NewDesk(k.m, p.Log, p.Guest, kept)
	k.d.IsFixed = s.Strength == ""
	s.Suspects.Recall(past.Symptoms)
	k.d.Fresh, k.d.Grant = s.Suspects.Fresh, (&granter{k, t.sheet}).grant
	if observe != nil {
		k.d.Observe = observe
	}
	k.v = view.NewView(view.Sources{Camera: p.Camera, Reader: p.Eye.Reader, Witness: p.Eye.Witness, NoteCamera: t.exam.noteCamera, NoteSilent: t.exam.suspect, Patience: s.Patience, Slow: s.Slow}, k.d, k.m)
	watch := p.Lookout
	watch.OnBoard = s.Gearing.Carriage
	k.c = carriage.NewCarriage(carriage.Gears{Gantry: p.Gantry, Gearing: s.Gearing, Lookout: lookout.New(watch, k.d, k.m, k.v)}, k.d, k.m, s.Suspects)
	t.does = t.handlers()
	return t
}

// handlers are what is done in each state.
func (t *Table) handlers() map[journal.State]handler {
	k, ask := t.kit, t.carrier.ask
	exec := &executor{kit: k, exam: t.exam, ask: ask, carrier: t.carrier}
	guest := &guestTurn{kit: k, sheet: t.sheet, ask: ask}
	machine := &machineTurn{k, exec}
	return map[journal.State]handler{
		journal.Setting:   (&start{k, t.sheet, t.carrier, guest}).setting,
		journal.Guesting:  guest.guesting,
		journal.Reading:   guest.reading,
		journal.Thinking:  machine.thinking,
		journal.Carrying:  machine.carrying,
		journal.Verifying: (&verification{k, t.sheet, exec, t.carrier, ask, t.exam}).verifying,
		journal.Undoing:   (&takeBack{k, t.sheet, exec, t.carrier}).undoing,
		journal.Arranging: (&setUp{k, exec, t.carrier}).arranging,
		journal.Trouble:   t.recovery.trouble,
	}
}

// Game is the game so far.
func (t *Table) Game() *chess.Game { return t.kit.m.Game }

// Standing is where the pieces are now: for the next game.
func (t *Table) Standing() places.Standing { return t.kit.m.Now.Clone() }

// Unlisted lists transitions made that the state table does not have: a fault
// of the program, for tests.
func (t *Table) Unlisted() []string { return t.kit.d.Unlisted }

// Task is what is being done besides moves.
func (t *Table) Task() journal.Task { return t.kit.job.Task() }

// Next is what was asked of the next game when this one was set up for it.
func (t *Table) Next() journal.Task { return t.kit.job.Next() }

// Arranged says whether the pieces stand where the next game begins.
func (t *Table) Arranged() bool { return t.kit.job.State() == journal.Arranged }

// Halt stops the motors now; the game waits for RequestResume. It may be called
// from any goroutine, in any state: no motion begins after it.
func (t *Table) Halt() error {
	t.kit.d.Halt()
	return t.kit.Gantry.Halt()
}
