// SPDX-License-Identifier: Apache-2.0

package carry

import (
	"math"

	"boardhand/internal/carry/plan"
	"boardhand/internal/carry/trajectory"
	"boardhand/internal/lanes"
)

// doubts is how many standard deviations of a measured place count: two, so
// that of a hundred pieces two stand a little further out, and even those are
// then within the placement and lag allowances.
const doubts = 2

// margins are the limits, and what follows from them for two pieces.
type margins struct{ plan.Limits }

// gap is what must stay between the bases of a carried and a standing piece:
// independent errors, so their squares add. Once it moves, a carried piece is
// where the magnet is, however it stood before.
func (l margins) gap(other plan.Piece) float64 {
	return together(l.Placement, l.LagSpread, doubts*other.Sigma)
}

// together is the size of independent errors taken together.
func together(errors ...float64) float64 {
	sum := 0.0
	for _, e := range errors {
		sum += e * e
	}
	return math.Sqrt(sum)
}

// keep is the least distance between the centres of a carried piece and a
// standing one: bases, errors and, when the other holds a magnet, the distance
// at which it stays put.
func (l margins) keep(carried, other plan.Piece) float64 {
	return math.Max(l.bases(carried, other), l.magnetic(other))
}

// bases is the least distance between two pieces' centres for their bases.
func (l margins) bases(carried, other plan.Piece) float64 {
	return (carried.Base+other.Base)/2 + l.gap(other)
}

// lane is the least distance of the magnet's lane from a standing piece: when it
// goes round it on a radius R, the piece behind it is dragged along √(R² − lag²).
func (l margins) lane(carried, other plan.Piece) float64 {
	return math.Max(math.Hypot(l.bases(carried, other), l.Lag), l.magnetic(other))
}

// magnetic is the least distance of the raised magnet from a piece that must
// stay, with the errors of both places and of the forces; 0 for a piece without
// a magnet.
func (l margins) magnetic(other plan.Piece) float64 {
	if !other.Magnet {
		return 0
	}
	return l.SafePass + together(l.SafeSpread, l.Placement, doubts*other.Sigma)
}

// arrival is the standard deviation of a carried piece's place: its placement
// and lag errors are limits, taken as two deviations.
func (l margins) arrival() float64 { return (l.Placement + l.LagSpread) / 2 }

// dragTime is the time to drag a piece along a way and settle it, without the
// lift.
func (l margins) dragTime(w lanes.Path) float64 {
	return trajectory.Time(trajectory.Lead(w.Points, l.Limits), l.Carry)
}
