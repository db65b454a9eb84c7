// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"context"
	"fmt"
	"image"
	"strings"

	"boardhand/internal/chess"
	"boardhand/internal/optics"
	"boardhand/internal/sight/background"
	"boardhand/internal/sight/pixels"
	"boardhand/internal/sight/register"
	"boardhand/internal/sight/scene"
	"boardhand/internal/sight/sizes"
	"boardhand/internal/sight/tracking"
	"boardhand/internal/sight/unsaid"
)

// unproved says whether no picture has shown the position yet.
func (r *Reader) unproved() bool { return r.tracker == nil || r.tracker.Phase() == background.Meeting }

// readFirst reads a picture as the first one: nothing of it is believed but
// what each place proves by itself.
func (r *Reader) readFirst(ctx context.Context, img image.Image) (Reading, error) {
	if got, ok := r.formerHand(img); ok {
		return got, nil
	}
	if !r.setup.IsWhole() {
		setup, found, err := unsaid.Complete(r.setup, img, scene.OccupancyOf(&r.pos), certain)
		if err != nil {
			return Reading{}, err
		}
		r.setup, r.found = setup, found
	}
	again := r.last != nil
	r.pending, r.last, r.tracker = nil, nil, nil
	v, err := r.prove(ctx, img, again)
	if err == nil && !v.reading.isFinished() {
		v, err = r.proveWider(ctx, img, again, v)
	}
	if err != nil {
		return Reading{}, err
	}
	r.adopt(v, img)
	r.things = v.things
	if len(v.lain) > 0 {
		r.found = append(r.found, fmt.Sprintf("What looks like a piece on %s lay there before: it is taken for light, or for a thing.", strings.Join(chess.SquareNames(v.lain), ", ")))
	}
	return v.reading, nil
}

// prove judges a picture by nothing but what it shows itself, and demands its proof; again says
// that it is not the first one of the position.
func (r *Reader) prove(ctx context.Context, img image.Image, again bool) (*decision, error) {
	v, err := r.decideAfresh(ctx, img, r.pos, r.former)
	if err != nil {
		return nil, err
	}
	if again {
		v.pursue(&r.pos, r.several)
	}
	v.things = r.things
	v.demandProof()
	return v, ctx.Err()
}

// proveWider doubts the told bases of the pieces where a first picture does not prove what
// stands there: if it does with bases as they are measured in it, those are kept.
func (r *Reader) proveWider(ctx context.Context, img image.Image, again bool, v *decision) (*decision, error) {
	told, e := r.setup, v.tracker
	f, ok := sizes.Bases(v.observation.Raw, told, e.Plane.View, e.Board)
	if !ok || f == 1 || ctx.Err() != nil {
		return v, ctx.Err()
	}
	r.setup.Pieces = sizes.Widened(told.Pieces, f)
	other, err := r.prove(ctx, img, again)
	if err != nil || !other.reading.isFinished() {
		r.setup = told
		return v, ctx.Err()
	}
	r.found = append(r.found, fmt.Sprintf("A king's base looks %.0f mm wide, not %.0f mm: the pieces are read so. Measure the bases and write them into the rig file.",
		r.setup.Pieces[chess.King].Base*1e3, told.Pieces[chess.King].Base*1e3))
	return other, nil
}

// formerHand is the reading of a hand that is seen against the former board:
// while people are at work on a set-up there is nothing to prove.
func (r *Reader) formerHand(img image.Image) (Reading, bool) {
	e := r.former
	if e == nil || e.Phase() == background.Meeting || r.hands >= stallHand {
		r.hands = 0
		return Reading{}, false
	}
	raw := r.reduce(img, e.Reduce)
	if raw.Check() != nil {
		return Reading{}, false
	}
	if _, moved, good := e.Settled(raw); moved > register.Still || good < register.Some {
		return Reading{}, false
	}
	_, hand := e.Detector().Find(raw)
	if hand == nil {
		r.hands = 0
		return Reading{}, false
	}
	r.hands++
	r.last = &lastPicture{tracker: e, img: img, raw: raw}
	return r.hand(hand), true
}

// adopt takes over what was learnt in a decision of a first picture.
func (r *Reader) adopt(v *decision, img image.Image) {
	view := v.tracker.Plane.View
	r.tracker, r.view, r.pending = v.tracker, &view, v
	r.last = &lastPicture{tracker: r.tracker, img: img, raw: v.observation.Raw, decision: v}
	if v.reading.State == Same {
		v.learn(&v.hypotheses[0])
		v.reading.Offsets = r.Offsets()
		r.former = nil
	}
}

// decideAfresh judges a picture by nothing but what it shows itself, and the light and
// the ground of a former board if the camera still hangs as it did.
func (r *Reader) decideAfresh(ctx context.Context, img image.Image, pos chess.Position, former *tracking.Tracker) (*decision, error) {
	view, former, err := r.frame(img, former)
	if err != nil {
		return nil, err
	}
	if ctx.Err() != nil {
		return nil, ctx.Err()
	}
	e, raw, err := r.learnTable(img, view, pos, former)
	if err != nil {
		return nil, err
	}
	g := e.Observe(raw, false)
	g.TakeRoom(r.observed)
	g.See(ctx, img)
	return decide(e, g, &pos, r.due), nil
}

// frame finds the board in a picture: where the former tracker had it, if its marks
// are still there, or anew; then nothing of the former tracker holds.
func (r *Reader) frame(img image.Image, former *tracking.Tracker) (optics.View, *tracking.Tracker, error) {
	if former != nil && former.Phase() == background.Following {
		raw := r.reduce(img, former.Reduce)
		if raw.Check() == nil {
			if _, moved, good := former.Settled(raw); moved <= register.Still && good >= register.Good {
				return former.Plane.View, former, nil
			}
		}
	}
	if r.setup.View != nil {
		return *r.setup.View, nil, nil
	}
	v, err := FindBoard(r.setup, img, nil)
	return v, nil, err
}

// learnTable learns the table from a picture of a position.
func (r *Reader) learnTable(img image.Image, view optics.View, pos chess.Position, former *tracking.Tracker) (*tracking.Tracker, *pixels.Image, error) {
	reduce := pixels.Reduction(view)
	if former != nil {
		reduce = former.Reduce
	}
	raw := r.reduce(img, reduce)
	if err := raw.Check(); err != nil {
		return nil, nil, err
	}
	e := tracking.New(r.setup, view, scene.OccupancyOf(&pos), former)
	e.Known = r.known
	lit, ok := e.LearnLight(raw)
	if !ok {
		return nil, nil, unsaid.ErrBarelySeen
	}
	e.Calibrate(raw, lit)
	return e, raw, nil
}
