// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"context"
	"image"
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/sight/occlusion"
	"boardhand/internal/sight/pixels"
	"boardhand/internal/sight/scene"
)

// readPast reads a picture in which something reaches over the board's rim beside a plain
// move: a hand that rests there, a cup that was put down or taken away. It is true only for a
// finished move of pieces that stand apart from what reaches over the rim: nearer, a hand may
// still hold them. over is all that covers the board.
func (r *Reader) readPast(ctx context.Context, img image.Image, raw *pixels.Image, over []occlusion.Occluder) (Reading, bool) {
	d := r.tracker.Detector()
	hands := d.Hands(over)
	covered := squaresOf(hands)
	if len(covered) > mostBeside || !d.Stirs(raw, hands) {
		return Reading{}, false
	}
	g := r.tracker.ObservePast(raw, hands)
	g.TakeRoom(r.observed)
	r.observed = g
	g.See(ctx, img)
	v := decide(r.tracker, g, &r.pos, r.due)
	v.pursue(&r.pos, r.several)
	if s := v.reading.State; ctx.Err() != nil || s != Moved && s != Several || !areApart(v.reading.Squares, covered) {
		return Reading{}, false
	}
	r.pending, r.last.decision = v, v
	return v.reading, true
}

// squaresOf lists the squares that some occluders cover.
func squaresOf(over []*occlusion.Occluder) (out []chess.Square) {
	for _, p := range over {
		out = scene.Merge(out, p.Squares)
	}
	return out
}

// areApart says whether no square of one list is, or touches, one of another.
func areApart(some, others []chess.Square) bool {
	return !slices.ContainsFunc(some, func(s chess.Square) bool {
		return slices.ContainsFunc(others, func(o chess.Square) bool {
			return max(s.File()-o.File(), o.File()-s.File()) <= 1 && max(s.Rank()-o.Rank(), o.Rank()-s.Rank()) <= 1
		})
	})
}
