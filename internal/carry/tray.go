// SPDX-License-Identifier: Apache-2.0

package carry

import (
	"cmp"
	"math"
	"slices"

	"boardhand/internal/carry/plan"
	"boardhand/internal/game"
	"boardhand/internal/lanes"
)

// SlotFor is the free slot that piece i of the scene would best be stood in;
// false when there is none, or when its base holds no magnet.
func (p *Planner) SlotFor(s plan.Scene, i int) (lanes.Spot, bool) {
	if p.rig.Removal.Mode != "tray" || i < 0 || i >= len(s.Pieces) || !s.Pieces[i].Magnet {
		return lanes.Spot{}, false
	}
	free := p.builder(s).freeSlots(i)
	if len(free) == 0 {
		return lanes.Spot{}, false
	}
	return free[0], true
}

// freeSlots lists the slots that piece i may be carried to, best first: the
// way there now and the way home at the next set-up together.
func (d *builder) freeSlots(i int) []lanes.Spot {
	type scored struct {
		at   lanes.Spot
		cost float64
	}
	m := d.pieces[i]
	var free []scored
	f := d.p.carryField(d.pieces, i)
	for _, s := range d.p.rig.Slots() {
		if slices.Contains(d.closed, s) || !d.p.limits.Inside.Holds(s) || f.Measure([]lanes.Spot{s, s}).Spare < 0 {
			continue
		}
		later := math.Inf(1)
		for _, sq := range d.p.homes(m.Piece) {
			later = math.Min(later, s.Distance(d.p.Centre(sq)))
		}
		free = append(free, scored{s, m.At.Distance(s) + later})
	}
	slices.SortStableFunc(free, func(a, b scored) int { return cmp.Compare(a.cost, b.cost) })
	out := make([]lanes.Spot, len(free))
	for k, s := range free {
		out[k] = s.at
	}
	return out
}

// homes are the squares where pieces of that piece stand at the start of a game.
func (p *Planner) homes(piece game.Piece) []game.Square {
	var out []game.Square
	for _, sq := range p.squares.Squares() {
		if p.start.At(sq) == piece {
			out = append(out, sq)
		}
	}
	return out
}
