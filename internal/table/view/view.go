// SPDX-License-Identifier: Apache-2.0

// Package view is how a table looks at its board: the next picture that can be
// used, what it is read as, and what single places of it show.
package view

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"strings"
	"time"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/photo"
	"boardhand/internal/sight"
	"boardhand/internal/table/desk"
	"boardhand/internal/table/evidence"
	"boardhand/internal/table/model"
)

// Camera delivers pictures.
type Camera interface {
	// Look returns the next picture. It waits for it, but not longer than ctx.
	Look(ctx context.Context) (photo.Picture, error)
}

// Reader weighs moves.
type Reader interface {
	// Read says what a picture shows, against the position it knows.
	Read(ctx context.Context, p photo.Picture) (sight.Reading, error)
}

// Witness tells of single places in the last picture.
type Witness interface {
	// Glance takes a picture for Present and Strangers without weighing moves:
	// its reading is sight.Hand, or sight.Same for a picture that can be used.
	Glance(ctx context.Context, p photo.Picture) (sight.Reading, error)
	// Present tells for each place by itself whether a piece stands there.
	Present(at []frame.Spot[frame.Board]) []sight.Presence
	// Strangers lists pieces that stand neither on a square of the eye's
	// position nor at a known place.
	Strangers(known []frame.Spot[frame.Board]) []sight.Stray
	// Seek looks in the last picture for the piece carried off from, wherever it
	// was lost; gone are the squares whose pieces were taken off meanwhile.
	Seek(from chess.Square, gone []chess.Square) (sight.Stray, bool)
}

// View is how the table looks at the board: the next picture that can be used,
// what it is read as, and what single places of it show.
type View struct {
	Sources
	desk    *desk.Desk
	model   *model.Model
	Shown   photo.Picture     // the last picture
	squares *evidence.Squares // of it, once they were looked at
	blinds  int               // pictures in a row that did not come
	hands   int               // pictures in a row with a hand
}

// Sources are what a view looks with.
type Sources struct {
	Camera     Camera
	Reader     Reader
	Witness    Witness
	NoteCamera func(error)                 // told of each picture whether it came
	NoteSilent func(context.Context) error // told when the guest hears that none comes
	Patience   time.Duration               // between tries when the camera is silent
	Slow       time.Duration               // a reading that takes longer is told of; 0: never
}

// NewView looks at a board for a desk.
func NewView(s Sources, d *desk.Desk, m *model.Model) *View {
	return &View{Sources: s, desk: d, model: m}
}

// NoHand notes that nobody reaches over the board.
func (v *View) NoHand() { v.hands = 0 }

// ErrFrozen says that the camera delivers one picture again and again: two
// pictures of a real camera are never the same to the byte.
var ErrFrozen = errors.New("the camera shows the same picture again and again: unplug it and plug it in again")

// reader is how a picture is read: Eye.Read or Eye.Glance.
type reader func(context.Context, photo.Picture) (sight.Reading, error)

// Look returns the reading of the next picture that can be read. While the
// camera is silent or its pictures are broken it says so and keeps trying: a
// game is not lost because a plug is loose. It ends with errHalted when a
// person stops the machine, and with what attend says of a request.
func (v *View) Look(ctx context.Context) (sight.Reading, error) {
	return v.lookWith(ctx, v.Reader.Read)
}

// glance is look without weighing moves, for pictures in the middle of a plan.
func (v *View) glance(ctx context.Context) (sight.Reading, error) {
	return v.lookWith(ctx, v.Witness.Glance)
}

// UntilClear glances until no hand is over the board.
func (v *View) UntilClear(ctx context.Context) error {
	for {
		r, err := v.glance(ctx)
		if err != nil || r.State != sight.Hand {
			return err
		}
		if err := v.StayingHand(ctx, r); err != nil {
			return err
		}
	}
}

func (v *View) lookWith(ctx context.Context, read reader) (sight.Reading, error) {
	for {
		if v.desk.IsHalted() {
			return sight.Reading{}, desk.ErrHalted
		}
		if err := v.desk.Attend(ctx); err != nil {
			return sight.Reading{}, err
		}
		r, err := v.picture(ctx, read)
		if err == nil {
			return r, v.seeing(ctx)
		}
		if ctx.Err() != nil {
			return sight.Reading{}, ctx.Err()
		}
		v.desk.Observe(desk.Event{Text: err.Error()})
		if err := v.blind(ctx, err); err != nil {
			return sight.Reading{}, err
		}
	}
}

// picture takes a picture and reads it.
func (v *View) picture(ctx context.Context, read reader) (sight.Reading, error) {
	pic, err := v.Camera.Look(ctx)
	if err != nil {
		v.NoteCamera(err)
		return sight.Reading{}, err
	}
	if len(pic.JPEG) > 0 && bytes.Equal(pic.JPEG, v.Shown.JPEG) { // it bears nothing out
		v.NoteCamera(ErrFrozen)
		return sight.Reading{}, ErrFrozen
	}
	v.NoteCamera(nil)
	r, err := v.timed(func() (sight.Reading, error) { return read(ctx, pic) })
	if err != nil {
		return r, err
	}
	v.see(pic, r)
	return r, nil
}

// timed reads, and says so when that takes long.
func (v *View) timed(read func() (sight.Reading, error)) (sight.Reading, error) {
	if v.Slow <= 0 {
		return read()
	}
	type result struct {
		r   sight.Reading
		err error
	}
	done := make(chan result, 1)
	go func() {
		r, err := read()
		done <- result{r, err}
	}()
	timer := time.NewTimer(v.Slow)
	defer timer.Stop()
	for {
		select {
		case got := <-done:
			return got.r, got.err
		case <-timer.C:
			v.desk.Observe(desk.Event{Slow: true})
		}
	}
}

// see keeps a picture and what it was read as.
func (v *View) see(pic photo.Picture, r sight.Reading) {
	v.Shown, v.squares = pic, nil
	v.desk.Observe(desk.Event{Picture: &pic, Reading: &r})
	if len(r.Offsets) == 0 {
		return
	}
	clear(v.model.Offsets) // who stands there now may be another piece
	for _, o := range r.Offsets {
		v.model.Offsets[o.Square] = o
	}
}

// blind tells the guest that the camera shows nothing useful, and waits a little.
func (v *View) blind(ctx context.Context, why error) error {
	v.blinds++
	if v.blinds%silentAfter != 0 {
		return nil
	}
	if v.blinds == silentAfter {
		text := fmt.Sprintf("I cannot see the board. Please look at the camera and its cable (%v).", strings.TrimRight(why.Error(), ".?"))
		if err := v.desk.CameraSilent(ctx, text); err != nil {
			return err
		}
		if err := v.NoteSilent(ctx); err != nil {
			return err
		}
	}
	timer := time.NewTimer(v.Patience)
	defer timer.Stop()
	select {
	case <-ctx.Done():
		return ctx.Err()
	case <-timer.C:
		return nil
	}
}

// seeing notes that pictures come; after a silence it says so.
func (v *View) seeing(ctx context.Context) error {
	was := v.blinds
	v.blinds = 0
	if was < silentAfter {
		return nil
	}
	return v.desk.CameraBack(ctx)
}
