// SPDX-License-Identifier: Apache-2.0

package likelihood

import (
	"slices"

	"boardhand/internal/game"
	"boardhand/internal/sight/silhouette"
)

// rest keeps what the pixels say that one piece, moved from one change to the next, does
// not touch: a search tries many places for one piece, with all else as it is.
type rest struct {
	gone    []bool
	come    []guise
	mover   uint8 // which of them moves
	epoch   int32 // of what is kept
	known   []term
	isStale bool // the densities have changed since
}

// term is what a pixel says, and in which epoch.
type term struct {
	nats  float64
	epoch int32
}

// guise is all of an arrived piece that its pixels' densities hang on.
type guise struct {
	covers *silhouette.Cover // the first of them: covers are not changed once made
	n      int               // how many
	piece  game.Piece
	nudged bool
	plain  bool
	shift  [2]float32
}

// follow compares a change with the last one and says which piece moves; nothing kept
// holds any more unless all others are as they were.
func (r *rest) follow(c *change) uint8 {
	odd, n := -1, 0
	same := !r.isStale && len(r.known) == len(c.Base) && len(r.come) == len(c.come) && slices.Equal(r.gone, c.gone)
	r.come = slices.Grow(r.come[:0], len(c.come))[:len(c.come)]
	for k := range c.come {
		m := &c.come[k]
		now := guise{n: len(m.Covers), piece: m.Piece, nudged: m.Nudged != nil, plain: m.Plain, shift: m.Shift}
		if now.n > 0 {
			now.covers = &m.Covers[0]
		}
		if r.come[k] != now {
			r.come[k], odd, n = now, k, n+1
		}
	}
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
		r.known, r.epoch = make([]term, len(c.Base)), 0
	}
	r.gone = append(r.gone[:0], c.gone...)
	r.epoch++
	r.isStale = false
}

// term is what a pixel says without the piece that moves, if that is known.
func (r *rest) term(px int32) (float64, bool) {
	t := &r.known[px]
	return t.nats, t.epoch == r.epoch
}

// keep keeps what a pixel says without the piece that moves.
func (r *rest) keep(px int32, nats float64) { r.known[px] = term{nats, r.epoch} }
