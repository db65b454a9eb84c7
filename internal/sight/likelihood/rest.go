// SPDX-License-Identifier: Apache-2.0

package likelihood

import (
	"slices"

	"boardhand/internal/sight/scene"
)

// rest keeps what the pixels say that one piece, moved from one change to the next, does
// not touch: a search tries many places for one piece, with all else as it is.
type rest struct {
	gone    []bool
	come    []scene.Placement
	mover   uint8     // which of them moves
	epoch   int32     // of what is kept
	known   []float64 // by pixel, nats
	of      []int32   // and the epoch in which that was found
	isStale bool      // the densities have changed since
}

// looksAs says whether the densities of an arrived piece's pixels are those of another's:
// covers are not changed once made.
func looksAs(a, b *scene.Placement) bool {
	return len(a.Covers) == len(b.Covers) && (len(a.Covers) == 0 || &a.Covers[0] == &b.Covers[0]) &&
		a.Piece == b.Piece && a.Plain == b.Plain && a.Shift == b.Shift && (a.Nudged == nil) == (b.Nudged == nil)
}

// follow compares a change with the last one and says which piece moves; nothing kept
// holds any more unless all others are as they were.
func (r *rest) follow(c *change) uint8 {
	odd, n := -1, 0
	same := !r.isStale && len(r.known) == len(c.Base) && len(r.come) == len(c.come) && slices.Equal(r.gone, c.gone)
	r.come = slices.Grow(r.come[:0], len(c.come))[:len(c.come)]
	for k := range c.come {
		if !looksAs(&r.come[k], &c.come[k]) {
			odd, n = k, n+1
		}
	}
	copy(r.come, c.come)
	if same && (n == 0 || n == 1 && odd == int(r.mover)) {
		return r.mover
	}
	r.begin(c)
	if r.mover = uint8(len(c.come) - 1); same && n == 1 {
		r.mover = uint8(odd)
	}
	return r.mover
}

// begin begins an epoch.
func (r *rest) begin(c *change) {
	if len(r.known) != len(c.Base) {
		r.known, r.of, r.epoch = make([]float64, len(c.Base)), make([]int32, len(c.Base)), 0
	}
	r.gone = append(r.gone[:0], c.gone...)
	r.epoch++
	r.isStale = false
}

// term is what a pixel says without the piece that moves, if that is known.
func (r *rest) term(px int32) (float64, bool) {
	return r.known[px], r.of[px] == r.epoch
}

// keep keeps what a pixel says without the piece that moves.
func (r *rest) keep(px int32, nats float64) { r.known[px], r.of[px] = nats, r.epoch }

// TakeRoom takes over the room that an observation no longer in use had for what it found, or
// drops it where that is of another size; that one finds it again if it is asked once more.
func (g *Observation) TakeRoom(from *Observation) {
	if from == nil || from == g {
		return
	}
	if len(from.Base) == len(g.Base) {
		g.rest.isStale = true
		g.touches, g.layers.logs = from.touches, from.layers.logs
		g.rest.known, g.rest.of, g.rest.epoch = from.rest.known, from.rest.of, from.rest.epoch
		clear(g.layers.logs)
	}
	from.touches, from.rest, from.layers = touches{}, rest{}, layers{}
}

// RoomOf is an observation that has the room of one no longer in use, and tells nothing.
func RoomOf(from *Observation) *Observation {
	if from == nil {
		return nil
	}
	g := &Observation{Base: from.Base}
	g.TakeRoom(from)
	return g
}
