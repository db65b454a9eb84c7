// SPDX-License-Identifier: Apache-2.0

package table

import (
	"context"
	"errors"
)

// New sets a table for a game as it was left. observe may be nil; it is called
// from Run's goroutine.
func New(p Parts, s Settings, past Past, observe func(Event)) *Table {
	t := &Table{p: p, s: s, m: NewModel(s.Machine, past), job: resumed(past.Task)}
	kept := ""
	if past.Standing != nil {
		kept = past.Standing.String()
	}
	t.d = NewDesk(t.m, p.Log, p.Guest, kept)
	if t.d.Grant = t.grant; observe != nil {
		t.d.Observe = observe
	}
	t.v = NewView(Sources{Camera: p.Camera, Reader: p.Eye.Reader, Witness: p.Eye.Witness, NoteCamera: s.Suspects.camera, Patience: s.Patience, Slow: s.Slow}, t.d, t.m)
	t.c = NewCarriage(p.Gantry, s.Gearing, t.d, t.m, s.Suspects)
	return t
}

// Request hands a person's request to the game. It may be called from any
// goroutine; the error says why it cannot be granted, in words for that person.
func (t *Table) Request(r Request) error { return t.d.Request(r) }

// ChangePlayer tells the table, from any goroutine, that another program
// chooses the machine's moves now; said is for the people at the table.
func (t *Table) ChangePlayer(said string) { t.d.ChangePlayer(said) }

// handler does what one state does and says what comes next, and why.
type handler func(t *Table, ctx context.Context) (Turn, error)

var handlers = map[State]handler{
	Setting:   (*Table).setting,
	Guesting:  (*Table).guesting,
	Reading:   (*Table).reading,
	Thinking:  (*Table).thinking,
	Carrying:  (*Table).carrying,
	Verifying: (*Table).verifying,
	Undoing:   (*Table).undoing,
	Arranging: (*Table).arranging,
	Trouble:   (*Table).trouble,
}

// Run plays until the game is over or ctx ends. Every transition is on disk
// before it is acted on. It returns an error only when it cannot go on at all
// (ctx ended, the log cannot be written).
func (t *Table) Run(ctx context.Context) error {
	if err := t.d.record(ctx, Record{State: Setting, What: TableSet}); err != nil {
		return err
	}
	t.d.state = Setting
	return t.loop(ctx)
}

// Rest waits, after the game is over, for somebody to ask for more, and grants
// it: after a move was taken back the game goes on to its next end; after a
// set-up the pieces stand where the next game begins, and Arranged says so.
func (t *Table) Rest(ctx context.Context) error {
	t.d.offer()
	for {
		if err := t.d.attend(ctx); err != nil {
			return t.redirected(ctx, err)
		}
		select {
		case <-ctx.Done():
			return ctx.Err()
		case <-t.d.wake:
		}
	}
}

// Grant grants what was asked for while the game was over, without waiting.
func (t *Table) Grant(ctx context.Context) error {
	t.d.offer()
	return t.redirected(ctx, t.d.attend(ctx))
}

// IsWanted says whether a request waits that can be granted now.
func (t *Table) IsWanted() bool { return t.d.isWanted() }

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
	t.d.offer()
	for t.d.state != Over {
		next, err := t.turn(ctx)
		if err != nil {
			t.c.retire()
			return err
		}
		if err := t.enter(ctx, next); err != nil {
			t.c.retire()
			return err
		}
	}
	t.d.offer()
	return t.over(ctx)
}

// turn lets the state do its work. The error is one that ends the session.
func (t *Table) turn(ctx context.Context) (Turn, error) {
	next, err := Turn{}, t.d.attend(ctx)
	if err == nil || errors.Is(err, errRight) {
		next, err = handlers[t.d.state](t, ctx)
	}
	if ctx.Err() != nil {
		return next, ctx.Err()
	}
	var fatal *logError
	var r *redirect
	switch {
	case err == nil:
		return next, nil
	case errors.As(err, &fatal):
		return next, err
	case errors.As(err, &r):
		return r.Turn, nil
	case errors.Is(err, errRight): // nothing here needs a person's word
		return Turn{To: t.d.state}, nil
	case errors.Is(err, errHalted) || t.d.isHalted():
		t.failure = errHalted
		return to(Trouble, Stopped), nil
	}
	t.failure = err
	return Turn{Trouble, Record{What: Failed, Said: err.Error(), Cause: string(partOf(err))}}, nil
}
