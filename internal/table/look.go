// SPDX-License-Identifier: Apache-2.0

package table

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"strings"
	"time"

	"boardhand/internal/notice"
	"boardhand/internal/sight"
)

// silentAfter is how many pictures in a row may fail, or be the same to the
// byte, before the guest is told.
const silentAfter = 3

// errFrozen says that the camera delivers one picture again and again: two
// pictures of a real camera are never the same to the byte.
var errFrozen = errors.New("the camera shows the same picture again and again: unplug it and plug it in again")

// reader is how a picture is read: Eye.Read or Eye.Glance.
type reader func(context.Context, sight.Picture) (sight.Reading, error)

// look returns the reading of the next picture that can be read. While the
// camera is silent or its pictures are broken it says so and keeps trying: a
// game is not lost because a plug is loose. It ends with errHalted when a
// person stops the machine, and with what attend says of a request.
func (t *Table) look(ctx context.Context) (sight.Reading, error) {
	return t.lookWith(ctx, t.p.Eye.Read)
}

// glance is look without weighing moves, for pictures in the middle of a plan.
func (t *Table) glance(ctx context.Context) (sight.Reading, error) {
	return t.lookWith(ctx, t.p.Eye.Glance)
}

// untilClear glances until no hand is over the board.
func (t *Table) untilClear(ctx context.Context) error {
	for {
		r, err := t.glance(ctx)
		if err != nil || r.State != sight.Hand {
			return err
		}
		if err := t.stayingHand(ctx, r); err != nil {
			return err
		}
	}
}

func (t *Table) lookWith(ctx context.Context, read reader) (sight.Reading, error) {
	for {
		if t.isHalted() {
			return sight.Reading{}, errHalted
		}
		if err := t.attend(ctx); err != nil {
			return sight.Reading{}, err
		}
		r, err := t.picture(ctx, read)
		if err == nil {
			return r, t.seeing(ctx)
		}
		if ctx.Err() != nil {
			return sight.Reading{}, ctx.Err()
		}
		t.observe(Event{Text: err.Error()})
		if err := t.blind(ctx, err); err != nil {
			return sight.Reading{}, err
		}
	}
}

// picture takes a picture and reads it.
func (t *Table) picture(ctx context.Context, read reader) (sight.Reading, error) {
	pic, err := t.p.Camera.Look(ctx)
	if err != nil {
		t.s.Suspects.camera(err)
		return sight.Reading{}, err
	}
	if len(pic.JPEG) > 0 && bytes.Equal(pic.JPEG, t.shown.JPEG) { // it bears nothing out
		t.s.Suspects.camera(errFrozen)
		return sight.Reading{}, errFrozen
	}
	t.s.Suspects.camera(nil)
	r, err := t.timed(ctx, func() (sight.Reading, error) { return read(ctx, pic) })
	if err != nil {
		return r, err
	}
	t.see(pic, r)
	return r, nil
}

// timed reads, and says so when that takes long.
func (t *Table) timed(ctx context.Context, read func() (sight.Reading, error)) (sight.Reading, error) {
	if t.s.Slow <= 0 {
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
	timer := time.NewTimer(t.s.Slow)
	defer timer.Stop()
	for {
		select {
		case got := <-done:
			return got.r, got.err
		case <-timer.C:
			t.observe(Event{Slow: true})
		}
	}
}

// see keeps a picture and what it was read as.
func (t *Table) see(pic sight.Picture, r sight.Reading) {
	t.shown, t.squares = pic, nil
	t.observe(Event{Picture: &pic, Reading: &r})
	if len(r.Offsets) == 0 {
		return
	}
	clear(t.pieces) // who stands there now may be another piece
	for _, o := range r.Offsets {
		t.pieces[o.Square] = o
	}
}

// blind tells the guest that the camera shows nothing useful, and waits a little.
func (t *Table) blind(ctx context.Context, why error) error {
	t.blinds++
	if t.blinds%silentAfter != 0 {
		return nil
	}
	if t.blinds == silentAfter {
		text := fmt.Sprintf("I cannot see the board. Please look at the camera and its cable (%v).", strings.TrimRight(why.Error(), ".?"))
		if err := t.tell(ctx, notice.Notice{Kind: notice.Wait, Text: text}); err != nil {
			return err
		}
		if err := t.record(ctx, Record{State: t.state, What: CameraSilent, Said: text}); err != nil {
			return err
		}
	}
	timer := time.NewTimer(t.s.Patience)
	defer timer.Stop()
	select {
	case <-ctx.Done():
		return ctx.Err()
	case <-timer.C:
		return nil
	}
}

// seeing notes that pictures come; after a silence it says so.
func (t *Table) seeing(ctx context.Context) error {
	was := t.blinds
	t.blinds = 0
	if was < silentAfter {
		return nil
	}
	if err := t.record(ctx, Record{State: t.state, What: CameraBack}); err != nil {
		return err
	}
	return t.tell(ctx, notice.Notice{Kind: notice.Wait, Text: "I see the board again. One moment, please."})
}

// settled looks until two pictures in a row say the same and no hand is in
// them: what a person is still doing is not a position. Of a board that nothing
// explains, pictures in a row need not name the same squares.
func (t *Table) settled(ctx context.Context) (sight.Reading, error) {
	return t.confirm(ctx, sight.Reading{})
}

// confirm is settled, with a first picture already seen.
func (t *Table) confirm(ctx context.Context, last sight.Reading) (sight.Reading, error) {
	for odd := 0; ; {
		r, err := t.look(ctx)
		if err != nil {
			return sight.Reading{}, err
		}
		if r.State != sight.Hand && alike(last, r) {
			return r, nil
		}
		if odd++; r.State == sight.Hand || r.State == sight.Same || r.State == sight.Moved {
			odd = 0
		}
		if odd > flickers { // nobody is at work on it, and which squares differ is not to be told
			return r, nil
		}
		if r.State == sight.Hand && last.State == sight.Hand {
			if err := t.stayingHand(ctx, r); err != nil {
				return r, err
			}
		}
		last = r
	}
}

// alike says whether two readings mean the same.
func alike(a, b sight.Reading) bool {
	if a.State != b.State || a.Move != b.Move || len(a.Squares) != len(b.Squares) {
		return false
	}
	for i := range a.Squares {
		if a.Squares[i] != b.Squares[i] {
			return false
		}
	}
	return true
}
