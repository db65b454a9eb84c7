// SPDX-License-Identifier: Apache-2.0

package table

import (
	"context"
	"errors"

	"boardhand/internal/table/desk"
	"boardhand/internal/table/journal"
	"boardhand/internal/table/lookout"
)

// Request hands a person's request to the game. It may be called from any
// goroutine; the error says why it cannot be granted, in words for that person.
func (t *Table) Request(r journal.Request) error { return t.kit.d.Request(r) }

// ChangePlayer tells the table, from any goroutine, that another program
// chooses the machine's moves now; said is for the people at the table.
func (t *Table) ChangePlayer(said string) { t.kit.d.ChangePlayer(said) }

// Run plays until the game is over or ctx ends. Every transition is on disk
// before it is acted on. It returns an error only when it cannot go on at all
// (ctx ended, the log cannot be written).
func (t *Table) Run(ctx context.Context) error {
	if err := t.kit.d.Record(ctx, journal.Record{State: journal.Setting, What: journal.TableSet, Strength: t.kit.Strength}); err != nil {
		return err
	}
	t.kit.d.State = journal.Setting
	if err := t.exam.suspect(ctx); err != nil { // what an earlier session found
		return err
	}
	return t.loop(ctx)
}

// Rest waits, after the game is over, for somebody to ask for more, and grants
// it: after a move was taken back the game goes on to its next end; after a
// set-up the pieces stand where the next game begins, and Arranged says so.
func (t *Table) Rest(ctx context.Context) error {
	t.kit.d.Offer()
	for {
		if err := t.kit.d.Attend(ctx); err != nil {
			return t.redirected(ctx, err)
		}
		select {
		case <-ctx.Done():
			return ctx.Err()
		case <-t.kit.d.Wake:
		}
	}
}

// Grant grants what was asked for while the game was over, without waiting.
func (t *Table) Grant(ctx context.Context) error {
	t.kit.d.Offer()
	return t.redirected(ctx, t.kit.d.Attend(ctx))
}

// IsWanted says whether a request waits that can be granted now.
func (t *Table) IsWanted() bool { return t.kit.d.IsWanted() }

func (t *Table) redirected(ctx context.Context, err error) error {
	var r *redirect
	if !errors.As(err, &r) {
		return err
	}
	if err := t.kit.enter(ctx, r.Turn); err != nil {
		return err
	}
	return t.loop(ctx)
}

// loop goes from state to state until the game is over.
func (t *Table) loop(ctx context.Context) error {
	t.kit.d.Offer()
	for t.kit.d.State != journal.Over {
		next, err := t.turn(ctx)
		if err != nil {
			t.kit.c.Retire()
			return err
		}
		if err := t.kit.enter(ctx, next); err != nil {
			t.kit.c.Retire()
			return err
		}
	}
	t.kit.d.Offer()
	if err := t.sheet.over(ctx); err != nil {
		return err
	}
	return t.carrier.lastLook(ctx)
}

// turn lets the state do its work. The error is one that ends the session.
func (t *Table) turn(ctx context.Context) (journal.Turn, error) {
	next, err := journal.Turn{}, t.kit.d.Attend(ctx)
	if err == nil || errors.Is(err, desk.ErrRight) {
		next, err = t.does[t.kit.d.State](ctx)
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
		return t.recovery.putOff(way), nil
	case errors.Is(err, desk.ErrRight): // nothing here needs a person's word
		return journal.Turn{To: t.kit.d.State}, nil
	case errors.Is(err, desk.ErrHalted) || t.kit.d.IsHalted():
		t.recovery.failure = desk.ErrHalted
		return journal.TurnTo(journal.Trouble, journal.Stopped), nil
	}
	t.recovery.failure = err
	return journal.Turn{To: journal.Trouble, Rec: journal.Record{What: journal.Failed, Said: err.Error(), Cause: string(journal.PartOf(err))}}, nil
}
