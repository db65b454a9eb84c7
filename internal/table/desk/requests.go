// SPDX-License-Identifier: Apache-2.0

package desk

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"boardhand/internal/notice"
	"boardhand/internal/table/journal"
)

// Request hands a person's request to the game. It may be called from any
// goroutine; the error says why it cannot be granted, in words for that person.
func (d *Desk) Request(r journal.Request) error {
	if err := r.Check(); err != nil {
		return err
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	if r.Kind == journal.RequestResume {
		return d.letGoOn()
	}
	if r.Kind == journal.RequestBack && d.plies < r.Plies {
		return errors.New("there is no move to take back yet")
	}
	if !slices.Contains(d.ways, r.Kind) {
		return fmt.Errorf("not now: %s", journal.Refusals[r.Kind])
	}
	switch {
	case r.Kind == journal.RequestNew && r.Side != "" && !d.model.Machine.CanPlay(r.Side):
		return fmt.Errorf("the machine cannot play %s: those pieces hold no magnets", r.Side)
	case slices.ContainsFunc(d.pending, func(o journal.Request) bool { return o.Kind == r.Kind }):
		return errors.New("one moment, please: it is being done already")
	}
	d.pending = append(d.pending, r)
	d.rouse()
	return nil
}

// rouse wakes whoever waits for something else than a picture. d.mu is held.
func (d *Desk) rouse() {
	select {
	case d.Wake <- struct{}{}:
	default:
	}
}

// IsWanted says whether a request waits that can be granted now.
func (d *Desk) IsWanted() bool {
	d.mu.Lock()
	defer d.mu.Unlock()
	return slices.ContainsFunc(d.pending, func(r journal.Request) bool { return r.IsDue(d.State) })
}

// take takes up the first request that can be granted now.
func (d *Desk) take() (journal.Request, bool) {
	d.mu.Lock()
	defer d.mu.Unlock()
	i := slices.IndexFunc(d.pending, func(r journal.Request) bool { return r.IsDue(d.State) })
	if i < 0 {
		return journal.Request{}, false
	}
	r := d.pending[i]
	d.pending = slices.Delete(d.pending, i, i+1)
	return r, true
}

// ErrRight says that a person calls right what stands on the board.
var ErrRight = errors.New("a person says that it is right as it stands")

// Attend grants what was asked for, if it can be granted now. What Grant says comes back:
// errRight says that a person calls right what stands there, since each wait
// knows for itself what it was waiting for.
func (d *Desk) Attend(ctx context.Context) error {
	for {
		r, ok := d.take()
		if !ok {
			return nil
		}
		if err := d.Grant(ctx, r); err != nil {
			return err
		}
	}
}

// ChangePlayer tells the table, from any goroutine, that another program
// chooses the machine's moves now; said is for the people at the table.
func (d *Desk) ChangePlayer(said string) {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.players = append(d.players, said)
}

// ChangedPlayer records and tells what ChangePlayer was told.
func (d *Desk) ChangedPlayer(ctx context.Context) error {
	d.mu.Lock()
	changes := d.players
	d.players = nil
	d.mu.Unlock()
	for _, said := range changes {
		if err := d.Record(ctx, journal.Record{State: d.State, What: journal.PlayerChanged, Said: said}); err != nil {
			return err
		}
		if err := d.Tell(ctx, notice.Notice{Kind: notice.Wait, Text: said}); err != nil {
			return err
		}
	}
	return nil
}
