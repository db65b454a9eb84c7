// SPDX-License-Identifier: Apache-2.0

package twin

import (
	"boardhand/internal/frame"
	"boardhand/internal/motion"
	"boardhand/internal/twin/mechanics"
	"boardhand/internal/twin/physics"
)

// newTable makes this machine's board and magnets.
func newTable(w *World) (*physics.Table, error) {
	q := w.deviations
	s := physics.Setting{DriveBr: q.DriveBr, BaseBr: q.BaseBr, BaseScatter: q.BaseScatter, FrictionScatter: q.FrictionScale, Bow: q.Bow,
		HasWideBases: w.faults[WideFoot], Chance: w.chance, Tell: w.note}
	if w.faults[WeakMagnet] {
		s.DriveBr *= weakShare
	}
	return physics.New(w.rig, s)
}

// note counts what happens to the pieces, and which fault has acted.
func (w *World) note(e physics.Event) {
	switch e {
	case physics.Collided:
		w.count.Collisions++
		w.acts(WideFoot)
	case physics.Toppled:
		w.count.Toppled++
	case physics.Slipped:
		w.count.Slips++
		w.acts(WeakMagnet)
	case physics.Dragged:
		w.count.Drags++
	}
}

// magnet is where the drive magnet truly is.
func (w *World) magnet() physics.Magnet {
	return physics.Magnet{At: w.carriage.Magnet(), Lift: w.carriage.Lift}
}

// advance moves the pieces by one step and returns the force they put on the
// drive magnet, newtons.
func (w *World) advance() (load frame.Spot[frame.Board], axial float64) {
	load, axial = w.table.Advance(w.table.FieldOf(w.magnet()))
	w.now += mechanics.Step
	return load, axial
}

// settle lets the pieces come to rest.
func (w *World) settle() {
	for range w.table.Settle(w.magnet()) {
		w.now += mechanics.Step
	}
}

// endStroke counts the pieces that were moved and should not have been.
func (w *World) endStroke() {
	if w.table.EndStroke() && w.carriage.IsCaught() {
		w.acts(LiftStaysUp)
	}
}

// spill lets the stroke about to begin meet a sticky patch, with the fault.
func (w *World) spill(s motion.Stroke) {
	if !w.faults[Slip] {
		return
	}
	way := make([]frame.Spot[frame.Board], len(s.Path))
	for i, p := range s.Path {
		way[i] = w.carriage.Truly(p)
	}
	if w.table.Spill(w.carriage.Magnet(), way) {
		w.acts(Slip)
	}
}

// brush counts when the piece that the magnet moves touches the hand; moved is how far
// the carriage went in a chunk of time, m.
func (w *World) brush(moved float64) {
	grip := w.table.Gripped()
	if grip == nil || !w.person.Hand().IsOut {
		w.isTouching = false
		return
	}
	isTouching := w.scene().Arm.Gap(seen(grip)) < 0
	if isTouching && !w.isTouching && moved > brushing*chunk {
		w.count.Touches++
	}
	w.isTouching = isTouching
}
