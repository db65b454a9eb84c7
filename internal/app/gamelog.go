package app

import (
	"context"
	"errors"
	"fmt"
	"time"

	"github.com/dustin/go-humanize"

	"boardhand/internal/chess"
	"boardhand/internal/store"
	"boardhand/internal/table"
)

// gameLog writes a table's records to the store. A new game begins in the store
// with the first record that tells that the board shows its position: a start
// that fails leaves no game.
type gameLog struct {
	store   *store.Store
	heading store.Game        // of the game to begin; with its ID when it is begun
	game    *chess.Game       // as the table plays it
	begun   func(store.Game)  // told when the game begins in the store
	warn    func(text string) // told what the maker should know

	waiting  []heldRecord // until the game begins
	pictured bool         // the last picture could be kept
	noPGN    bool         // the last PGN file could not be written
	low      bool         // it was said that little room is left
}

// heldRecord is a record that waits for its game to begin.
type heldRecord struct {
	at time.Time
	r  table.Record
}

// mostHeld bounds the records that wait: a table whose board is never set right
// goes on looking for hours.
const mostHeld = 64

// Append returns when the record is on disk, or waits for the game to begin. A
// picture that cannot be kept is told of, and no error.
func (l *gameLog) Append(ctx context.Context, r table.Record) error {
	ctx = context.WithoutCancel(ctx) // what has happened is written down, whoever stops the program
	now := heldRecord{time.Now(), r}
	if l.heading.ID != 0 {
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
	for _, held := range append(l.waiting, now) {
		if err := l.keep(ctx, held); err != nil {
			return err
		}
	}
	l.waiting = nil
	return nil
}

// begins says whether a record shows that the game has begun: the table has
// seen the position, or plays.
func begins(r table.Record) bool {
	return r.State != table.Setting && r.State != table.Trouble || r.Move != 0 || r.Back != 0 || r.Decided != 0
}

// begin begins the game in the store.
func (l *gameLog) begin(ctx context.Context) error {
	l.heading.Started = time.Now()
	if len(l.waiting) > 0 {
		l.heading.Started = l.waiting[0].at
	}
	id, err := l.store.Begin(ctx, l.heading)
	if err != nil {
		return err
	}
	l.heading.ID, l.heading.Result = id, store.Unfinished
	l.begun(l.heading)
	return nil
}

// keep writes one record.
func (l *gameLog) keep(ctx context.Context, h heldRecord) error {
	e := entryOf(h.r)
	e.At = h.at
	err := l.store.Append(ctx, l.heading.ID, e, h.r.JPEG)
	var lost *store.PictureError
	switch {
	case errors.As(err, &lost):
		if err := l.pictureLost(ctx, e, lost); err != nil {
			return err
		}
	case err != nil:
		return err
	case len(h.r.JPEG) > 0:
		l.pictured = true
	}
	if h.r.Move == 0 && h.r.Back == 0 && h.r.State != table.Over {
		return nil
	}
	if err := l.close(ctx); err != nil {
		return err
	}
	l.writePGN(ctx)
	l.warnLow()
	return nil
}

// pictureLost notes a picture that could not be kept; of several in a row only
// the first is told.
func (l *gameLog) pictureLost(ctx context.Context, e store.Entry, lost *store.PictureError) error {
	if l.pictured {
		l.warn(lost.Error())
	}
	l.pictured = false
	return l.store.Append(ctx, l.heading.ID, store.Entry{At: time.Now(), State: e.State, Event: string(table.PictureLost), Note: lost.Error()}, nil)
}

// entryOf is a record as the store keeps it; the time is the caller's.
func entryOf(r table.Record) store.Entry {
	e := store.Entry{State: string(r.State), Note: r.Text, Task: r.Task, Standing: r.Standing}
	if r.Back != 0 {
		e.Back = r.Back.String()
	}
	if r.Move != 0 {
		e.Move = r.Move.String()
	}
	if r.Decided != 0 {
		e.Decided = r.Decided.String()
	}
	return e
}

// close writes down that the game has ended, or that it goes on again: moves
// were taken back, or an abandoned game was taken up.
func (l *gameLog) close(ctx context.Context) error {
	o := l.game.Outcome()
	result, reason := string(o.Result), string(o.Reason)
	if result == l.heading.Result && reason == l.heading.Reason {
		return nil
	}
	return l.finish(ctx, result, reason)
}

func (l *gameLog) finish(ctx context.Context, result, reason string) error {
	if err := l.store.Finish(ctx, l.heading.ID, result, reason); err != nil {
		return err
	}
	l.heading.Result, l.heading.Reason = result, reason
	return nil
}

// abandon writes down that the game was given up for another one, if it is not
// over.
func (l *gameLog) abandon(ctx context.Context) error {
	if l.heading.ID == 0 || !l.heading.Open() {
		return nil
	}
	err := l.finish(ctx, store.Unfinished, store.Abandoned)
	l.writePGN(ctx)
	return err
}

// writePGN writes the game's PGN beside the store.
func (l *gameLog) writePGN(ctx context.Context) {
	k, err := told(ctx, l.store, l.heading)
	if err == nil {
		err = l.store.KeepPGN(l.heading.ID, pgnOf(l.heading, k))
	}
	if err != nil && !l.noPGN {
		l.warn(fmt.Sprintf("the game goes on, but its PGN file cannot be written: %v", err))
	}
	l.noPGN = err != nil
}

// lowRoom is when to say that little room is left on the disk: some twenty
// games, at the 11 MB that were measured for one of 80 plies.
const lowRoom = 250 << 20

// warnLow says once that little room is left.
func (l *gameLog) warnLow() {
	free, err := l.store.Free()
	if err != nil || free >= lowRoom || l.low {
		return
	}
	l.low = true
	l.warn(fmt.Sprintf("only %s are free on the disk of the games; `boardhand games prune` removes old pictures", humanize.Bytes(uint64(free))))
}
