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
	standing string       // the last one kept
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
// *table.PictureError says that only the picture is lost.
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
	var lost error
	for _, held := range append(l.waiting, now) {
		err := l.keep(ctx, held)
		if picture := (*table.PictureError)(nil); errors.As(err, &picture) {
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
func begins(r table.Record) bool {
	return r.What == table.PositionSeen || r.What == table.Agreed || r.State != table.Setting && r.State != table.Trouble
}

// begin begins the game in the store.
func (l *gameLog) begin(ctx context.Context) error {
	l.heading.Reason, l.heading.Start = "", l.game.Start.FEN()
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

// beginSetUp begins a game on a board that was set up; who stands beside the
// board is the first that is kept of it.
func (l *gameLog) beginSetUp(ctx context.Context) error {
	if err := l.begin(ctx); err != nil {
		return err
	}
	return l.keep(ctx, heldRecord{time.Now(), table.Record{State: table.Setting, What: table.TableSet, Standing: l.standing}})
}

// keep writes one record.
func (l *gameLog) keep(ctx context.Context, h heldRecord) error {
	if err := l.followAgreement(ctx, &h.r); err != nil {
		return err
	}
	e := entryOf(h.r)
	e.At = h.at
	err := l.store.Append(ctx, l.heading.ID, e, h.r.JPEG)
	var lost *store.PictureError
	if err != nil && !errors.As(err, &lost) {
		return err
	}
	if h.r.Standing != "" {
		l.standing = h.r.Standing
	}
	if h.r.Move != 0 || h.r.Back != 0 || h.r.State == table.Over {
		if err := l.close(ctx); err != nil {
			return err
		}
		l.writePGN(ctx)
		l.warnLow()
	}
	if lost != nil {
		return &table.PictureError{Err: lost.Err}
	}
	return nil
}

// followAgreement begins another game in the store when the table goes on from
// a position that no move leads to: one game has one first position.
func (l *gameLog) followAgreement(ctx context.Context, r *table.Record) error {
	start := l.game.Start.FEN()
	if r.What != table.Agreed || len(l.game.Moves) > 0 || start == l.heading.Start {
		return nil
	}
	if err := l.abandon(ctx); err != nil {
		return err
	}
	l.heading.Start = start
	if r.Standing == "" {
		r.Standing = l.standing
	}
	return l.begin(ctx)
}

// entryOf is a record as the store keeps it; the time is the caller's.
func entryOf(r table.Record) store.Entry {
	e := store.Entry{State: string(r.State), Note: r.Prose(), Event: string(r.What), Detail: detailOf(r), Task: r.Task, Standing: r.Standing}
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
