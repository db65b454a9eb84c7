// SPDX-License-Identifier: Apache-2.0

package inference

import (
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/sight/nats"
	"boardhand/internal/sight/pixels"
	"boardhand/internal/sight/scene"
	"boardhand/internal/sight/silhouette"
)

// climbs keeps the climbs that were made on one observation: a piece that was touched is
// climbed with under one hypothesis after the other, and what else differs in these is mostly
// far from it.
type climbs struct {
	made    map[foot][]climbed
	version int        // of the observation
	tried   pixels.Box // that holds all pixels tried in the climb under way
}

// foot is where a climb begins.
type foot struct {
	piece    chess.Piece
	square   chess.Square
	at       frame.Spot[frame.Board]
	shift    [2]float32
	isNudged bool
	isPlain  bool
}

// climbed is a climb that was made.
type climbed struct {
	to     scene.Placement
	gain   nats.LogEvidence
	tried  pixels.Box
	gone   []int             // other pieces gone from there
	beside []scene.Placement // arrived there
}

func footOf(m *scene.Placement) foot {
	return foot{m.Piece, m.Square, m.At, m.Shift, m.Nudged != nil, m.Plain}
}

// recall gives the climb made before with the piece k of some that arrived, all else there as
// it is now; nil where there is none.
func (q *Search) recall(gone []bool, stood []scene.Placement, k int) *climbed {
	c := &q.climbs
	if v := q.Version(); c.made == nil || c.version != v {
		c.made, c.version = map[foot][]climbed{}, v
	}
	made := c.made[footOf(&stood[k])]
	for i := range made {
		on, beside := q.within(made[i].tried, gone, stood, k)
		if slices.Equal(on, made[i].gone) && slices.EqualFunc(beside, made[i].beside, looksAlike) {
			return &made[i]
		}
	}
	return nil
}

// keep keeps a climb from a foot.
func (q *Search) keep(from foot, gone []bool, stood []scene.Placement, k int, gain nats.LogEvidence) {
	c := climbed{to: stood[k], gain: gain, tried: q.climbs.tried}
	c.gone, c.beside = q.within(c.tried, gone, stood, k)
	q.climbs.made[from] = append(q.climbs.made[from], c)
}

// within lists the pieces gone and those arrived, but one, that touch a box.
func (q *Search) within(b pixels.Box, gone []bool, stood []scene.Placement, but int) (on []int, beside []scene.Placement) {
	for j, is := range gone {
		if is && b.Meets(q.bounds(q.Scene.Pieces[j].Covers)) {
			on = append(on, j)
		}
	}
	for j := range stood {
		if j != but && b.Meets(q.bounds(stood[j].Covers)) {
			beside = append(beside, stood[j])
		}
	}
	return on, beside
}

// bounds is the box of some pixels.
func (q *Search) bounds(covers []silhouette.Cover) pixels.Box {
	b, w := pixels.Box{X0: q.Scene.Plane.W, Y0: q.Scene.Plane.H}, int32(q.Scene.Plane.W)
	for _, c := range covers {
		x, y := int(c.Pixel%w), int(c.Pixel/w)
		b = b.With(pixels.Box{X0: x, Y0: y, X1: x + 1, Y1: y + 1})
	}
	return b
}

// looksAlike says whether two arrived pieces make the same of a picture.
func looksAlike(a, b scene.Placement) bool {
	return a.Piece == b.Piece && a.Plain == b.Plain && a.Shift == b.Shift && a.Reach == b.Reach &&
		(a.Nudged == nil) == (b.Nudged == nil) && slices.Equal(a.Covers, b.Covers)
}
