// SPDX-License-Identifier: Apache-2.0

package limits

import (
	"math"
	"testing"

	"boardhand/internal/carry/plan"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// A sprung magnet keeps its distance from the sheet, so that a raised one drags pieces over a
// warped sheet as over a flat one; only what the spring does not reach counts: a magnet
// 0.2 mm short, as one whose gap is 0.2 mm wider there. Hooke's law, worked out by hand.
func TestSprungMagnetFollowsTheWarp(t *testing.T) {
	const warp = 0.8
	raised := func(l plan.Limits) [6]float64 {
		return [6]float64{l.Lag, l.LagSpread, l.Lead, l.Carry.Most.Accel, l.SafePass, l.SafeSpread}
	}
	sprung := func(warp, preload float64) plan.Limits {
		return limitsOf(t, func(r *rig.Rig) {
			r.Lift.Spring, r.Lift.Preload, r.Board.Warp = unit.Stiffness(1e3), unit.Force(preload), unit.MM(warp)
		})
	}
	flat := sprung(0, 0.5)
	if got := sprung(warp, 0.5); raised(got) != raised(flat) {
		t.Errorf("over a warp that the spring follows: %.6g, over a flat sheet %.6g", raised(got), raised(flat))
	}
	wide := limitsOf(t, func(r *rig.Rig) { r.Lift.Air, r.Board.Warp = r.Lift.Air+unit.MM(0.2), 0 })
	short := sprung(warp, 0.2) // loose 0.2 mm below, the sheet bows 0.4 mm away
	least, most := min(flat.Lag-flat.LagSpread, wide.Lag-wide.LagSpread), max(flat.Lag+flat.LagSpread, wide.Lag+wide.LagSpread)
	if math.Abs(short.Lag-(least+most)/2) > 1e-9 || math.Abs(short.LagSpread-(most-least)/2) > 1e-9 {
		t.Errorf("short of 0.2 mm: lags %.4f ± %.4f mm, those of both gaps %.4f to %.4f mm", short.Lag*1e3, short.LagSpread*1e3, least*1e3, most*1e3)
	}
	// Lowered the magnet follows no sheet: over a warp that is nearly all of its drop pieces are in its way.
	shallow := func(warp float64) float64 {
		return limitsOf(t, func(r *rig.Rig) { r.Lift.Drop, r.Board.Warp = unit.MM(6), unit.MM(warp) }).LoweredPass
	}
	if bowed, even := shallow(3), shallow(0); !(bowed > even) {
		t.Errorf("lowered, where no spring follows, %g m are kept over a warp and %g m over a flat sheet", bowed, even)
	}
	rigid := func(warp float64) plan.Limits {
		return limitsOf(t, func(r *rig.Rig) { r.Lift.Spring, r.Board.Warp = 0, unit.MM(warp) })
	}
	if stiff, flat := rigid(warp), rigid(0); !(stiff.LagSpread > flat.LagSpread) {
		t.Errorf("without a spring the lag spreads by %g m over a warp and by %g m over a flat sheet", stiff.LagSpread, flat.LagSpread)
	}
}
