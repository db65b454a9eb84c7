// SPDX-License-Identifier: Apache-2.0

// Package gamelog keeps the game at a table in the store, and tells it again:
// what happened as entries, and the game, the pieces beside the board and the
// task under way as the entries tell them.
package gamelog

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"time"

	"github.com/dustin/go-humanize"

	"boardhand/internal/chess"
	"boardhand/internal/store"
	"boardhand/internal/table/journal"
)

// Log writes a table's records to the store. A new game begins in the store
// with the first record that tells that the board shows its position: a start
// that fails leaves no game.
type Log struct {
	Store    *store.Store
	Heading  store.Game        // of the game to begin; with its ID when it is begun
	Game     *chess.Game       // as the table plays it
	Standing string            // where the pieces are, as kept last; "": as the position says
	Begun    func(store.Game)  // told when the game begins in the store
	Warn     func(text string) // told what the maker should know

	waiting  []heldRecord // until the game begins
	strength string       // of the machine, as recorded last; the first entry of each game has it
	isNew    bool         // nothing of the game is written yet
	noPGN    bool         // the last PGN file could not be written
	low      bool         // it was said that little room is left
}

// heldRecord is a record that waits for its game to begin.
type heldRecord struct {
	at time.Time
	r  journal.Record
}

// Append returns when the record is on disk, or waits for the game to begin. A
// *table.PictureError says that only the picture is lost.
func (l *Log) Append(ctx context.Context, r journal.Record) error {
	ctx = context.WithoutCancel(ctx) // what has happened is written down, whoever stops the program
	l.strength = cmp.Or(r.Strength, l.strength)
	now := heldRecord{time.Now(), r}
	if l.Heading.ID != 0 {
		return l.keep(ctx, now)
	}
	if !begins(r) {
		if len(l.waiting) == mostHeld {
			l.waiting = append(l.waiting[:1], l.waiting[2:]...) // the first one says when it began
		}
		l.waiting = append(l.waiting, now)
		return nil
	}
	if err := l.begin(ctx); err != nil {
		return err
	}
	var lost error
	for _, held := range append(l.waiting, now) {
		err := l.keep(ctx, held)
		if picture := (*journal.PictureError)(nil); errors.As(err, &picture) {
			lost = err
		} else if err != nil {
			return err
		}
	}
	l.waiting = nil
	return lost
}

// begins says whether a record shows that the game has begun: the board is seen
// or said to show a position, or the table plays.
func begins(r journal.Record) bool {
	return r.What == journal.PositionSeen || r.What == journal.Agreed || r.State != journal.Setting && r.State != journal.Trouble
}

// begin begins the game in the store.
func (l *Log) begin(ctx context.Context) error {
	l.Heading.Reason, l.Heading.Start = "", l.Game.Start.FEN()
	l.Heading.Started = time.Now()
	if len(l.waiting) > 0 {
		l.Heading.Started = l.waiting[0].at
	}
	id, err := l.Store.Begin(ctx, l.Heading)
	if err != nil {
		return err
	}
	l.Heading.ID, l.Heading.Result, l.isNew = id, store.Unfinished, true
	l.Begun(l.Heading)
	return nil
}

// BeginSetUp begins a game on a board that was set up; who stands beside the
// board is the first that is kept of it.
func (l *Log) BeginSetUp(ctx context.Context) error {
	if err := l.begin(ctx); err != nil {
		return err
	}
	return l.keep(ctx, heldRecord{time.Now(), journal.Record{State: journal.Setting, What: journal.TableSet, Standing: l.Standing}})
}

// keep writes one record.
func (l *Log) keep(ctx context.Context, h heldRecord) error {
	if err := l.followAgreement(ctx, &h.r); err != nil {
		return err
	}
	if l.isNew {
		h.r.Strength, l.isNew = l.strength, false
	}
	e := EntryOf(h.r)
	e.At = h.at
	err := l.Store.Append(ctx, l.Heading.ID, e, h.r.JPEG)
	var lost *store.PictureError
	if err != nil && !errors.As(err, &lost) {
		return err
	}
	if h.r.Standing != "" {
		l.Standing = h.r.Standing
	}
	if h.r.Move != 0 || h.r.Back != 0 || h.r.State == journal.Over {
		if err := l.Close(ctx); err != nil {
			return err
		}
		l.writePGN(ctx)
		l.WarnLow()
	}
	if lost != nil {
		return &journal.PictureError{Err: lost.Err}
	}
	return nil
}

// followAgreement begins another game in the store when the table goes on from
// a position that no move leads to: one game has one first position.
func (l *Log) followAgreement(ctx context.Context, r *journal.Record) error {
	start := l.Game.Start.FEN()
	if r.What != journal.Agreed || len(l.Game.Moves) > 0 || start == l.Heading.Start {
		return nil
	}
	if err := l.Abandon(ctx); err != nil {
		return err
	}
	l.Heading.Start = start
	if r.Standing == "" {
		r.Standing = l.Standing
	}
	return l.begin(ctx)
}

// Close writes down that the game has ended, or that it goes on again: moves
// were taken back, or an abandoned game was taken up.
func (l *Log) Close(ctx context.Context) error {
	o := l.Game.Outcome()
	result, reason := string(o.Result), string(o.Reason)
	if result == l.Heading.Result && reason == l.Heading.Reason {
		return nil
	}
	return l.finish(ctx, result, reason)
}

func (l *Log) finish(ctx context.Context, result, reason string) error {
	if err := l.Store.Finish(ctx, l.Heading.ID, result, reason); err != nil {
		return err
	}
	l.Heading.Result, l.Heading.Reason = result, reason
	return nil
}

// Abandon writes down that the game was given up for another one, if it is not
// over.
func (l *Log) Abandon(ctx context.Context) error {
	if l.Heading.ID == 0 || !l.Heading.Open() {
		return nil
	}
	err := l.finish(ctx, store.Unfinished, store.Abandoned)
	l.writePGN(ctx)
	return err
}

// writePGN writes the game's PGN beside the store.
func (l *Log) writePGN(ctx context.Context) {
	k, err := Tell(ctx, l.Store, l.Heading)
	if err == nil {
		err = l.Store.KeepPGN(l.Heading.ID, PGN(l.Heading, k))
	}
	if err != nil && !l.noPGN {
		l.Warn(fmt.Sprintf("the game goes on, but its PGN file cannot be written: %v", err))
	}
	l.noPGN = err != nil
}

// WarnLow says once that little room is left.
func (l *Log) WarnLow() {
	free, err := l.Store.Free()
	if err != nil || free >= lowRoom || l.low {
		return
	}
	l.low = true
	l.Warn(fmt.Sprintf("only %s are free on the disk of the games; `boardhand games prune` removes old pictures", humanize.Bytes(uint64(free))))
}
