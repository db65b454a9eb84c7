// SPDX-License-Identifier: Apache-2.0

package table

import (
	"context"
	"errors"

	"boardhand/internal/diagnosis"
	"boardhand/internal/table/carriage"
	"boardhand/internal/table/desk"
	"boardhand/internal/table/journal"
	"boardhand/internal/table/lookout"
	"boardhand/internal/table/model"
	"boardhand/internal/table/view"
)

// New sets a table for a game as it was left. observe may be nil; it is called
// from Run's goroutine.
func New(p Parts, s Settings, past journal.Past, observe func(Event)) *Table {
	t := &Table{p: p, s: s, m: model.NewModel(s.Machine, past), job: resumed(past.Task)}
	kept := ""
	if past.Standing != nil {
		kept = past.Standing.String()
	}
	t.d = desk.NewDesk(t.m, p.Log, p.Guest, kept)
	s.Suspects.Recall(past.Symptoms)
	t.d.Fresh = s.Suspects.Fresh
	if t.d.Grant = t.grant; observe != nil {
		t.d.Observe = observe
	}
	t.v = view.NewView(view.Sources{Camera: p.Camera, Reader: p.Eye.Reader, Witness: p.Eye.Witness, NoteCamera: t.noteCamera, NoteSilent: t.suspect, Patience: s.Patience, Slow: s.Slow}, t.d, t.m)
	watch := p.Lookout
	watch.OnBoard = s.Gearing.Carriage
	t.c = carriage.NewCarriage(carriage.Gears{Gantry: p.Gantry, Gearing: s.Gearing, Lookout: lookout.New(watch, t.d, t.m, t.v)}, t.d, t.m, s.Suspects)
	return t
}

// noteCamera tells the diagnosis whether a picture came.
func (t *Table) noteCamera(err error) {
	switch {
	case err == nil:
		t.s.Suspects.Camera(diagnosis.Done)
	case errors.Is(err, view.ErrFrozen):
		t.s.Suspects.Camera(diagnosis.PictureFrozen)
	default:
		t.s.Suspects.Camera(diagnosis.PictureLost)
	}
}

// Request hands a person's request to the game. It may be called from any
// goroutine; the error says why it cannot be granted, in words for that person.
func (t *Table) Request(r journal.Request) error { return t.d.Request(r) }

// ChangePlayer tells the table, from any goroutine, that another program
// chooses the machine's moves now; said is for the people at the table.
func (t *Table) ChangePlayer(said string) { t.d.ChangePlayer(said) }

// handler does what one state does and says what comes next, and why.
type handler func(t *Table, ctx context.Context) (journal.Turn, error)

var handlers = map[journal.State]handler{
	journal.Setting:   (*Table).setting,
	journal.Guesting:  (*Table).guesting,
	journal.Reading:   (*Table).reading,
	journal.Thinking:  (*Table).thinking,
	journal.Carrying:  (*Table).carrying,
	journal.Verifying: (*Table).verifying,
	journal.Undoing:   (*Table).undoing,
	journal.Arranging: (*Table).arranging,
	journal.Trouble:   (*Table).trouble,
}

// Run plays until the game is over or ctx ends. Every transition is on disk
// before it is acted on. It returns an error only when it cannot go on at all
// (ctx ended, the log cannot be written).
func (t *Table) Run(ctx context.Context) error {
	if err := t.d.Record(ctx, journal.Record{State: journal.Setting, What: journal.TableSet}); err != nil {
		return err
	}
	t.d.State = journal.Setting
	if err := t.suspect(ctx); err != nil { // what an earlier session found
		return err
	}
	return t.loop(ctx)
}

// Rest waits, after the game is over, for somebody to ask for more, and grants
// it: after a move was taken back the game goes on to its next end; after a
// set-up the pieces stand where the next game begins, and Arranged says so.
func (t *Table) Rest(ctx context.Context) error {
	t.d.Offer()
	for {
		if err := t.d.Attend(ctx); err != nil {
			return t.redirected(ctx, err)
		}
		select {
		case <-ctx.Done():
			return ctx.Err()
		case <-t.d.Wake:
		}
	}
}

// Grant grants what was asked for while the game was over, without waiting.
func (t *Table) Grant(ctx context.Context) error {
	t.d.Offer()
	return t.redirected(ctx, t.d.Attend(ctx))
}

// IsWanted says whether a request waits that can be granted now.
func (t *Table) IsWanted() bool { return t.d.IsWanted() }

func (t *Table) redirected(ctx context.Context, err error) error {
	var r *redirect
	if !errors.As(err, &r) {
		return err
	}
	if err := t.enter(ctx, r.Turn); err != nil {
		return err
	}
	return t.loop(ctx)
}

// loop goes from state to state until the game is over.
func (t *Table) loop(ctx context.Context) error {
	t.d.Offer()
	for t.d.State != journal.Over {
		next, err := t.turn(ctx)
		if err != nil {
			t.c.Retire()
			return err
		}
		if err := t.enter(ctx, next); err != nil {
			t.c.Retire()
			return err
		}
	}
	t.d.Offer()
	return t.over(ctx)
}

// turn lets the state do its work. The error is one that ends the session.
func (t *Table) turn(ctx context.Context) (journal.Turn, error) {
	next, err := journal.Turn{}, t.d.Attend(ctx)
	if err == nil || errors.Is(err, desk.ErrRight) {
		next, err = handlers[t.d.State](t, ctx)
	}
	if ctx.Err() != nil {
		return next, ctx.Err()
	}
	var fatal *desk.LogError
	var r *redirect
	var way *lookout.InWay
	switch {
	case err == nil:
		return next, nil
	case errors.As(err, &fatal):
		return next, err
	case errors.As(err, &r):
		return r.Turn, nil
	case errors.As(err, &way):
		return t.putOff(way), nil
	case errors.Is(err, desk.ErrRight): // nothing here needs a person's word
		return journal.Turn{To: t.d.State}, nil
	case errors.Is(err, desk.ErrHalted) || t.d.IsHalted():
		t.failure = desk.ErrHalted
		return journal.TurnTo(journal.Trouble, journal.Stopped), nil
	}
	t.failure = err
	return journal.Turn{To: journal.Trouble, Rec: journal.Record{What: journal.Failed, Said: err.Error(), Cause: string(partOf(err))}}, nil
}
