// SPDX-License-Identifier: Apache-2.0

package table

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/notice"
)

// Request hands a person's request to the game. It may be called from any
// goroutine; the error says why it cannot be granted, in words for that person.
func (d *Desk) Request(r Request) error {
	if err := r.check(); err != nil {
		return err
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	if r.Kind == RequestResume {
		return d.letGoOn()
	}
	if r.Kind == RequestBack && d.plies < r.Plies {
		return errors.New("there is no move to take back yet")
	}
	if !slices.Contains(d.ways, r.Kind) {
		return fmt.Errorf("not now: %s", refusals[r.Kind])
	}
	switch {
	case r.Kind == RequestNew && r.Side != "" && !d.model.Machine.canPlay(r.Side):
		return fmt.Errorf("the machine cannot play %s: those pieces hold no magnets", r.Side)
	case slices.ContainsFunc(d.pending, func(o Request) bool { return o.Kind == r.Kind }):
		return errors.New("one moment, please: it is being done already")
	}
	d.pending = append(d.pending, r)
	d.rouse()
	return nil
}

// canPlay says whether the pieces of a side hold magnets.
func (s Machine) canPlay(side string) bool {
	c := chess.Black
	if side == "white" {
		c = chess.White
	}
	return s.Carried[c]
}

// rouse wakes whoever waits for something else than a picture. d.mu is held.
func (d *Desk) rouse() {
	select {
	case d.wake <- struct{}{}:
	default:
	}
}

// isWanted says whether a request waits that can be granted now.
func (d *Desk) isWanted() bool {
	d.mu.Lock()
	defer d.mu.Unlock()
	return slices.ContainsFunc(d.pending, func(r Request) bool { return r.isDue(d.state) })
}

// take takes up the first request that can be granted now.
func (d *Desk) take() (Request, bool) {
	d.mu.Lock()
	defer d.mu.Unlock()
	i := slices.IndexFunc(d.pending, func(r Request) bool { return r.isDue(d.state) })
	if i < 0 {
		return Request{}, false
	}
	r := d.pending[i]
	d.pending = slices.Delete(d.pending, i, i+1)
	return r, true
}

// errRight says that a person calls right what stands on the board.
var errRight = errors.New("a person says that it is right as it stands")

// attend grants what was asked for, if it can be granted now. What Grant says comes back:
// errRight says that a person calls right what stands there, since each wait
// knows for itself what it was waiting for.
func (d *Desk) attend(ctx context.Context) error {
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

// changedPlayer records and tells what ChangePlayer was told.
func (d *Desk) changedPlayer(ctx context.Context) error {
	d.mu.Lock()
	changes := d.players
	d.players = nil
	d.mu.Unlock()
	for _, said := range changes {
		if err := d.record(ctx, Record{State: d.state, What: PlayerChanged, Said: said}); err != nil {
			return err
		}
		if err := d.tell(ctx, notice.Notice{Kind: notice.Wait, Text: said}); err != nil {
			return err
		}
	}
	return nil
}
