// SPDX-License-Identifier: Apache-2.0

package diagnosis

import (
	"math"

	"boardhand/internal/frame"
)

// event is something that is not to happen beside the ending of a carry.
type event int

const (
	pushCarrying event = iota
	pushTravelling
	lagX
	lagY
	liftUp
	liftDown
	lost
	frozen
	spoilt
	wideSeen
	events
)

// soundRates are how often each event happens in one act that it can happen in,
// with a sound machine. No source; TestPriorsHardlyMatter varies them.
var soundRates = [events]float64{0.004, 0.003, 0.003, 0.003, 0.001, 0.001, 0.002, 0.0005, 0.0005, 0.00005}

// exposes lists the events that an act can bring.
func exposes(s Symptom) []event {
	switch s.Act {
	case Carry:
		return []event{pushCarrying, lagX, lagY, lost, frozen, spoilt}
	case Travel:
		return []event{pushTravelling, lagX, lagY, spoilt}
	case Lift:
		if s.Raised {
			return []event{liftUp, spoilt}
		}
		return []event{liftDown, spoilt}
	}
	return []event{lost, frozen}
}

// eventOf says which event a symptom is; false: none.
func eventOf(s Symptom) (event, bool) {
	switch s.Outcome {
	case Pushed:
		if s.Act == Travel {
			return pushTravelling, true
		}
		return pushCarrying, true
	case Lagged, Stalled:
		if s.Axis == "y" {
			return lagY, true
		}
		return lagX, true
	case LiftFailed:
		if s.Raised {
			return liftUp, true
		}
		return liftDown, true
	case BrokenOff:
		return spoilt, true
	case PictureLost, PictureSilent:
		return lost, true
	case PictureFrozen:
		return frozen, true
	case WideBases:
		return wideSeen, true
	}
	return 0, false
}

// jams is how often the lift jams under a hypothesis of it.
func (h hypothesis) jams() float64 { return jams[h.variant%len(jams)] }

// rate is how often a cause brings an event in one act, besides the sound rate.
func (h hypothesis) rate(e event, s Symptom) float64 {
	switch {
	case h.cause == BaseTooWide && e == pushCarrying && h.concerns(s):
		return touches[h.variant%len(touches)]
	case h.cause == BaseTooWide && e == wideSeen && h.piece == Piece{}:
		return measuredWide
	case h.cause == LiftStaysUp && e == pushTravelling:
		return 0.9 * h.jams()
	case h.cause == LiftStaysUp && e == pushCarrying:
		return 0.4 * h.jams()
	case h.cause == LiftStaysUp && e == liftDown, h.cause == LiftStaysDown && e == liftUp:
		if h.variant >= len(jams) { // nothing at this lift feels where it is
			return 0
		}
		return h.jams()
	case h.cause == MagnetFlipped && e == pushCarrying && s.Outcome != Pushed && s.Piece == h.piece,
		h.cause == MagnetFlipped && e == pushCarrying && s.Outcome == Pushed && (s.Carrier == h.piece || s.Piece == h.piece):
		return 0.3
	case h.cause == AxisOverdriven && (e == lagX && h.axis == "x" || e == lagY && h.axis == "y"):
		return 0.7
	case h.cause == AxisOverdriven && e == pushCarrying:
		return 0.05
	case h.isGeometry() && h.cause != MagnetOffCentre && e == pushCarrying:
		return 0.03
	case h.cause == CameraDropping && e == lost:
		return drops[h.variant]
	case h.cause == ControllerWire && e == spoilt:
		return drops[h.variant]
	case h.cause == CameraFrozen && e == frozen:
		return 0.7
	}
	return 0
}

// pushDensity is how likely a push is to have its distance from the way and its
// direction, per metre, and its end, per square metre, under a hypothesis; under
// none with hypothesis{}.
func (h hypothesis) pushDensity(s Symptom, p physics) float64 {
	return h.sideDensity(s, p) * h.endDensity(s, p)
}

// endDensity is how likely a push is to end where it does, per square metre: a
// piece that was pushed is left behind, one that a person has moved meanwhile is anywhere
// on the field; one with a magnet that a raised magnet holds goes to where the carriage
// ends, unless it is lost on the way.
func (h hypothesis) endDensity(s Symptom, p physics) float64 {
	left := (1-byHand)*plane(s.To.Distance(s.From), pushedBy) + byHand/(p.field*p.field)
	if h.cause != LiftStaysUp || s.End == (Spot{}) || !p.carries(s.Piece.Side) {
		return left
	}
	return lostHeld*left + (1-lostHeld)*plane(s.To.Distance(s.End), heldWithin)
}

// sideDensity is the part of pushDensity per metre.
func (h hypothesis) sideDensity(s Symptom, p physics) float64 {
	near, d := frame.Nearest(s.Path, s.From)
	isAway := s.From.Sub(near).Dot(s.To.Sub(s.From)) > 0 && d > 1e-3
	within := func(lo, hi, away float64) float64 {
		if !isAway {
			away = 1 - away
		}
		if d < lo || d > hi {
			return 0.02 * away / farthestPush
		}
		return 0.98 * away / (hi - lo)
	}
	switch h.cause {
	case BaseTooWide:
		touch := (p.of(s.Piece.Kind).base + p.of(s.Carrier.Kind).base) / 2
		return (1-passedOn)*within(touch-1e-3, 2*touch, 0.9) + passedOn*within(touch-1e-3, 4*touch, 0.7)
	case LiftStaysUp:
		return within(0, math.Max(1.3*p.raised, 5e-3), 0.3)
	}
	return within(0, farthestPush, 0.5)
}
