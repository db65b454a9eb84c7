// SPDX-License-Identifier: Apache-2.0

package physics

import (
	"boardhand/internal/frame"
)

// BeginStroke notes where everybody stands.
func (t *Table) BeginStroke() {
	for _, b := range t.Pieces {
		b.since, b.pushed = b.At, false
	}
	t.patch = stickyPatch{}
	t.held = t.grip
}

// EndStroke tells of the pieces that were moved and should not have been; moved
// says whether any piece has moved so far that a picture shows it.
func (t *Table) EndStroke() (moved bool) {
	for _, b := range t.Pieces {
		moved = moved || b.Place == OnBoard && b.At.Distance(b.since) > plainly
		if b != t.held && b != t.grip && b.Place == OnBoard && !b.pushed && b.At.Distance(b.since) > dragged {
			t.set.Tell(Dragged)
		}
	}
	t.held = nil
	return moved
}

// TakeGrip finds the piece that the magnet holds after the lift has moved: the
// nearest within the offset of the largest pull.
func (t *Table) TakeGrip(m Magnet) {
	t.grip = nil
	if m.Lift < 1 {
		return
	}
	best := t.pull.peak
	for _, b := range t.Pieces {
		if d := b.Pole().Distance(m.At); b.Magnet && b.Strength > 0 && b.Place == OnBoard && d < best {
			best, t.grip = d, b
		}
	}
}

// WatchGrip notes when the held piece is lost, and when another is picked up.
func (t *Table) WatchGrip(m Magnet) {
	if m.Lift < 1 {
		return
	}
	if t.grip == nil {
		t.TakeGrip(m)
		return
	}
	if t.grip.Place == Gone { // down the chute, as it was meant to
		t.grip = nil
		return
	}
	if t.grip.Place != OnBoard || t.grip.Pole().Distance(m.At) > lostAt*t.pull.peak {
		t.set.Tell(Slipped)
		t.grip = nil
	}
}

// stickyPatch is a place where something was spilt.
type stickyPatch struct {
	at    frame.Spot[frame.Board]
	reach float64
}

// Spill decides whether the stroke about to begin from a place meets a sticky
// patch, and where on its way.
func (t *Table) Spill(from frame.Spot[frame.Board], way []frame.Spot[frame.Board]) bool {
	chance := t.set.Chance
	if t.grip == nil || len(way) == 0 || chance.Float64() > stickyShare {
		return false
	}
	to := way[chance.IntN(len(way))]
	at := from.Add(to.Sub(from).Scale(spillFrom + (1-spillFrom)*chance.Float64()))
	if at.Distance(t.grip.At) < stickyReach { // it does not stand in it already
		return false
	}
	t.patch = stickyPatch{at: at, reach: stickyReach}
	return true
}

// IsUnder says whether a place is nearer to a piece's magnet than the offset of
// the largest pull.
func (t *Table) IsUnder(at frame.Spot[frame.Board], b *Piece) bool {
	return b.Pole().Distance(at) < t.pull.peak
}

// holds is the force with which the patch holds a piece on it, N. It does not go
// with its weight: friction alone could not hold it, because the magnet's ring
// lifts most of the weight off a piece that stays behind.
func (p stickyPatch) holds(b *Piece) float64 {
	if p.reach > 0 && b.At.Distance(p.at) < p.reach {
		return stickyHold
	}
	return 0
}
