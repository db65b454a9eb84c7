// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"context"
	"image"
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/sight/background"
	"boardhand/internal/sight/likelihood"
	"boardhand/internal/sight/occlusion"
	"boardhand/internal/sight/pixels"
	"boardhand/internal/sight/scene"
	"boardhand/internal/sight/silhouette"
)

// A table looks otherwise with the lamp and without it. Each look that was proved is kept, as
// a tracker of its own, and the one whose light a picture is in is found again.

// observe compares a picture with the look of the table whose light it is in.
func (r *Reader) observe(raw *pixels.Image, covered bool) *likelihood.Observation {
	g := r.tracker.observe(raw, covered)
	if covered || g.Image.Doubtful == nil || !r.findAgain(raw) {
		return g
	}
	return r.tracker.observe(raw, covered)
}

// findAgain takes up the kept look in whose light a picture is, and says whether there is one.
func (r *Reader) findAgain(raw *pixels.Image) bool {
	best, least := -1, light(r.tracker, raw)/2
	for k, e := range r.looks {
		if raw.W != e.Plane.W || raw.H != e.Plane.H {
			continue
		}
		e.turnLike(r.tracker)
		if v := light(e, raw); v < least {
			best, least = k, v
		}
	}
	if best < 0 {
		return false
	}
	e, last := r.looks[best], r.tracker
	e.catchUp(last)
	r.looks = slices.Delete(slices.Clone(r.looks), best, best+1)
	r.keepLook(last)
	r.tracker = e
	return true
}

// light is the share of the board that is in another light than a tracker remembers.
func light(e *tracker, raw *pixels.Image) float64 { return e.Model.Elsewhere(&e.Scene, raw) }

// keepLook keeps how the table looks to a tracker.
func (r *Reader) keepLook(e *tracker) {
	if e != nil && e.Phase() == background.Following {
		r.looks = append([]*tracker{e}, r.looks[:min(len(r.looks), mostLooks-1)]...)
	}
}

// turnLike takes a tracker to another's view.
func (e *tracker) turnLike(o *tracker) {
	if e.Plane.View != o.Plane.View {
		e.turn(o.Plane.View)
	}
}

// catchUp brings a tracker of this view to where the pieces of another stand. What they
// bared is taken from the bare board, and what they cover from the other's last settled
// picture.
func (e *tracker) catchUp(o *tracker) {
	e.Frames, e.Around = o.Frames, o.Around
	stale, any := stalePixels(e.Pieces, o.Pieces, len(e.Stack.Count))
	if !any {
		return
	}
	lit := e.Relit(&e.Scene, o.Frames[0])
	at, sigma := o.Places(), o.Sigmas()
	e.Board = o.Board
	e.Place(at)
	e.SetSigmas(sigma)
	e.Model.Patch(&e.Scene, lit, stale)
}

// stalePixels marks the pixels of n that pieces cover which stand here, but not there, or not
// here but there; false where there are none.
func stalePixels(here, there []scene.Placement, n int) (stale []bool, any bool) {
	const moved = 1e-3 // metres: places are measured as well
	stale = make([]bool, n)
	mark := func(ms, others []scene.Placement) {
		for _, m := range ms {
			if slices.ContainsFunc(others, func(o scene.Placement) bool { return o.Piece == m.Piece && o.At.Distance(m.At) < moved }) {
				continue
			}
			any = true
			for _, c := range m.Covers {
				stale[c.Pixel] = true
			}
		}
	}
	mark(here, there)
	mark(there, here)
	return stale, any
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
	return k != nil && len(k.L) == len(raw.L) && occlusion.Changed(&r.tracker.Scene, r.compare(raw, k)) < doubtArea
}

// decideInItsLight judges a picture of a board that is known to lie as before by its own light;
// nil where too little of the board is seen.
func (r *Reader) decideInItsLight(ctx context.Context, img image.Image, raw *pixels.Image) *decision {
	e := r.tracker.anew(scene.OccupancyOf(&r.pos))
	e.known = r.known
	if _, ok := e.learnLight(raw); !ok {
		return nil
	}
	g := e.observe(raw, false)
	g.See(ctx, img)
	return decide(e, g, &r.pos, r.due)
}

// anew is a tracker of the same view, with the pieces of a board where they were last seen,
// that has learnt nothing yet.
func (e *tracker) anew(board scene.Occupancy) *tracker {
	n := &tracker{Model: background.Model{Conditions: background.Conditions{Noise: 1}}, Scene: e.Scene}
	at, sigma := map[chess.Square]frame.Spot[frame.Board]{}, e.Sigmas()
	for _, m := range e.Pieces {
		if board[m.Square] == m.Piece {
			at[m.Square] = m.At
		}
	}
	n.Stack, n.Board = silhouette.Stack{}, board
	n.Place(at)
	n.SetSigmas(sigma)
	return n
}

// learnLight learns the board and the colours of both sides from a picture, and gives that in
// the light that was learnt; false where too little of the board is seen.
func (e *tracker) learnLight(raw *pixels.Image) (lit *pixels.Image, ok bool) {
	lit = e.relit(raw, false)
	e.Bins = background.NewBins(lit, e.Samples)
	if !e.imagine(lit) {
		return nil, false
	}
	if clear := e.relit(raw, false); clear != lit && e.imagine(clear) {
		lit = clear
	}
	e.LearnSides(&e.Scene, lit)
	return lit, true
}
