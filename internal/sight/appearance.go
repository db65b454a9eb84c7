// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"context"
	"image"
	"slices"

	"boardhand/internal/sight/background"
	"boardhand/internal/sight/likelihood"
	"boardhand/internal/sight/occlusion"
	"boardhand/internal/sight/pixels"
	"boardhand/internal/sight/scene"
	"boardhand/internal/sight/tracking"
)

// A table looks otherwise with the lamp and without it. Each look that was proved is kept, as
// a tracker of its own, and the one whose light a picture is in is found again.

// observe compares a picture with the look of the table whose light it is in.
func (r *Reader) observe(raw *pixels.Image, covered bool) *likelihood.Observation {
	g := r.tracker.Observe(raw, covered)
	if covered || g.Image.Doubtful == nil || !r.findAgain(raw) {
		return g
	}
	return r.tracker.Observe(raw, covered)
}

// findAgain takes up the kept look in whose light a picture is, and says whether there is one.
func (r *Reader) findAgain(raw *pixels.Image) bool {
	best, least := -1, light(r.tracker, raw)/2
	for k, e := range r.looks {
		if raw.W != e.Plane.W || raw.H != e.Plane.H {
			continue
		}
		e.TurnLike(r.tracker)
		if v := light(e, raw); v < least {
			best, least = k, v
		}
	}
	if best < 0 {
		return false
	}
	e, last := r.looks[best], r.tracker
	e.CatchUp(last)
	r.looks = slices.Delete(slices.Clone(r.looks), best, best+1)
	r.keepLook(last)
	r.tracker = e
	return true
}

// light is the share of the board that is in another light than a tracker remembers.
func light(e *tracking.Tracker, raw *pixels.Image) float64 { return e.Model.Elsewhere(&e.Scene, raw) }

// keepLook keeps how the table looks to a tracker.
func (r *Reader) keepLook(e *tracking.Tracker) {
	if e != nil && e.Phase() == background.Following {
		e.SetAside()
		r.looks = append([]*tracking.Tracker{e}, r.looks[:min(len(r.looks), mostLooks-1)]...)
	}
}

// lookAgain doubts what was learnt of the light before the guest is accused: a picture in
// another light that no rule explains is judged by nothing but itself. If each place proves
// the position, or moves from it, that is the reading, and the table is learnt anew in that
// light.
func (r *Reader) lookAgain(ctx context.Context, img image.Image, raw *pixels.Image, got Reading) Reading {
	if got.isFinished() || r.pending.observation.Image.Doubtful == nil || r.wasDoubted(raw) {
		return got
	}
	r.vain = raw
	v := r.decideInItsLight(ctx, img, raw)
	if v == nil {
		return got
	}
	v.pursue(&r.pos, r.several)
	if !v.reading.isFinished() { // a piece that lies still has a base and a head
		return got
	}
	v.demandProof()
	if ctx.Err() != nil || !v.reading.isFinished() {
		return got
	}
	last := r.tracker
	r.static, r.stall, r.vain = staticObject{}, stall{}, nil
	r.adopt(v, img)
	r.keepLook(last)
	return v.reading
}

// wasDoubted says whether a picture looks like the last one that was judged by itself in vain.
func (r *Reader) wasDoubted(raw *pixels.Image) bool {
	k := r.vain
	return k != nil && len(k.L) == len(raw.L) && occlusion.Changed(&r.tracker.Scene, r.compare(raw, k)) < occlusion.StillMost
}

// decideInItsLight judges a picture of a board that is known to lie as before by its own light;
// nil where too little of the board is seen.
func (r *Reader) decideInItsLight(ctx context.Context, img image.Image, raw *pixels.Image) *decision {
	e := r.tracker.Anew(scene.OccupancyOf(&r.pos))
	e.Known = r.known
	if _, ok := e.LearnLight(raw); !ok {
		return nil
	}
	g := e.Observe(raw, false)
	g.TakeRoom(r.observed)
	g.See(ctx, img)
	return decide(e, g, &r.pos, r.due)
}
