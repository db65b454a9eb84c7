package table

import (
	"context"
	"fmt"
	"time"

	"boardhand/internal/notice"
	"boardhand/internal/sight"
)

// silentAfter is how many pictures in a row may fail before the guest is told.
const silentAfter = 3

// look returns the next picture that can be read, with its reading. While the
// camera is silent or its pictures are broken it says so and keeps trying: a
// game is not lost because a plug is loose.
func (t *Table) look(ctx context.Context) (sight.Reading, error) {
	for fails := 0; ; fails++ {
		if fails > 0 && fails%silentAfter == 0 {
			if err := t.blind(ctx, fails); err != nil {
				return sight.Reading{}, err
			}
		}
		pic, err := t.p.Camera.Look(ctx)
		if err == nil {
			var r sight.Reading
			if r, err = t.p.Eye.Read(ctx, pic); err == nil {
				t.see(pic, r)
				return r, nil
			}
		}
		if ctx.Err() != nil {
			return sight.Reading{}, ctx.Err()
		}
		t.failure = err
		t.observe(Event{Text: err.Error()})
	}
}

// see keeps a picture and what it was read as.
func (t *Table) see(pic sight.Picture, r sight.Reading) {
	t.shown = pic
	t.observe(Event{Picture: &pic, Reading: &r})
	if len(r.Offsets) == 0 {
		return
	}
	clear(t.men) // who stands there now may be another man
	for _, o := range r.Offsets {
		t.men[o.Square] = o
	}
}

// blind tells the guest that the camera shows nothing useful, and waits a little.
func (t *Table) blind(ctx context.Context, fails int) error {
	if fails == silentAfter {
		text := fmt.Sprintf("I cannot see the board: %v. Please look at the camera and its cable.", t.failure)
		if err := t.tell(ctx, notice.Notice{Kind: notice.Wait, Text: text}); err != nil {
			return err
		}
		if err := t.record(ctx, Record{State: t.state, Text: text}); err != nil {
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

// settled looks until two pictures in a row say the same and no hand is in
// them: what a person is still doing is not a position.
func (t *Table) settled(ctx context.Context) (sight.Reading, error) {
	return t.confirm(ctx, sight.Reading{})
}

// confirm is settled, with a first picture already seen.
func (t *Table) confirm(ctx context.Context, last sight.Reading) (sight.Reading, error) {
	for {
		r, err := t.look(ctx)
		if err != nil {
			return sight.Reading{}, err
		}
		if r.State != sight.Hand && alike(last, r) {
			return r, nil
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
