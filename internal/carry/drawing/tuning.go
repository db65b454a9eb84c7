// SPDX-License-Identifier: Apache-2.0

package drawing

import "boardhand/internal/draw"

// The numbers of this package that were set by hand: unit, meaning, how each was
// found, and what doubling it does.

// Clearances printed: at most mostMeasures a carry, none wider than widestGap, a share
// of a square. Found by looking; doubled, a crowded plan cannot be read.
const (
	mostMeasures = 3
	widestGap    = 0.4
)

// closeShave is how near the least allowed a clearance must be to be drawn as
// a warning, metres: less than a hair's width of reserve. Reasoned; doubled, more are
// drawn so.
const closeShave = 0.1e-3

// askedRing is the radius of the ring round a square where something is asked for, in
// squares: just inside it.
const askedRing = 0.46

// The paper, mm: around all that stands on it, and beside the board for the list of steps, from
// line to line. Found by looking; doubled, half of it is empty.
const (
	margin    = 6.0
	noteWidth = 104.0
	noteLine  = 6.2
)

// turned is the inner ring of a piece as a share of its base, as on the pages. Found by looking;
// it cannot be doubled.
const turned = 0.84

// How ways are drawn, mm: what the carriage travels finer and with longer gaps than what it
// carries. Found by looking; doubled, lines run into each other.
var (
	travelLine   = draw.Ink{Width: 0.25, Dash: []float64{0.6, 1.4}}
	magnetLine   = draw.Ink{Width: 0.25, Dash: []float64{0.8, 0.8}}
	pieceLine    = draw.Ink{Width: 0.45, Dash: []float64{3, 1.2}}
	slotLine     = draw.Ink{Width: 0.2, Grey: true}
	carriageLine = draw.Ink{Width: 0.4}
)
