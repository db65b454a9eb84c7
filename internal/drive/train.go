// SPDX-License-Identifier: Apache-2.0

package drive

import (
	"fmt"
	"math"

	"boardhand/internal/unit"
)

// Train is a motor with what turns its rotation into travel.
type Train struct {
	Motor      Motor
	Travel     unit.Length // a turn of the pinion, pulley or screw
	Gearing    float64     // motor turns per such turn
	Efficiency float64     // of gears and drive together
	Counts     int         // counts or microsteps a motor turn
}

// Check says what is wrong with the train.
func (t Train) Check() error {
	if t.Motor == nil {
		return fmt.Errorf("no motor given: set its stall torque and free speed")
	}
	if !(t.Efficiency > 0 && t.Efficiency <= 1) {
		return fmt.Errorf("drive efficiency must be above 0 and at most 1; got %g", t.Efficiency)
	}
	return firstOf(above("travel a turn", float64(t.Travel), 10), above("gearing", t.Gearing, 1e4))
}

// MotorTurns is the motor's turning rate at a speed of travel. Exact.
func (t Train) MotorTurns(v unit.Speed) unit.Turning {
	return unit.Turning(math.Abs(float64(v)) / float64(t.Travel) * t.Gearing * 2 * math.Pi)
}

// ForceAt is the force along the axis that the motor has at a speed:
// 2π·η·i·T(ω)/travel. Range: v from 0. Accuracy: that of the motor line and
// the efficiency. Source: work a turn.
func (t Train) ForceAt(v unit.Speed) unit.Force {
	torque := float64(t.Motor.TorqueAt(t.MotorTurns(v)))
	return unit.Force(2 * math.Pi * t.Efficiency * t.Gearing * torque / float64(t.Travel))
}

// Resolution is the travel of one count.
func (t Train) Resolution() (unit.Length, error) {
	perMetre, err := CountsPerMetre(t.Counts, t.Gearing, t.Travel)
	if err != nil {
		return 0, err
	}
	return unit.Length(1 / perMetre), nil
}

// Load is what an axis must move.
type Load struct {
	Mass     unit.Mass  // with the reflected inertia if it matters
	Friction unit.Force // guides, magnet on the underside, cables
	Drag     unit.Force // pull of pieces
	Accel    unit.Acceleration
}

// Needs is the force the load asks for while gaining speed.
func (l Load) Needs() unit.Force {
	return l.Friction + l.Drag + unit.Force(float64(l.Mass)*float64(l.Accel))
}

// Stall is where a drive is weakest.
type Stall struct {
	Margin float64 // force available over force needed, minus 1
	At     unit.Speed
	Has    unit.Force
	Needs  unit.Force
	Top    unit.Speed // fastest speed with no margin left; 0: not even at rest
}

// StallMargin goes through all speeds from 0 to top. Range: as Check.
// Accuracy: that of the motor line. Source: work a turn, Newton.
func (t Train) StallMargin(l Load, top unit.Speed) (Stall, error) {
	if err := firstOf(t.Check(), above("speed", float64(top), 100)); err != nil {
		return Stall{}, err
	}
	need := l.Needs()
	if !(need > 0) {
		return Stall{}, fmt.Errorf("the load needs no force (%v): give the mass, friction or acceleration", need)
	}
	const places = 50
	out := Stall{Margin: math.Inf(1), Needs: need}
	for i := range places + 1 {
		v := top * unit.Speed(i) / places
		has := t.ForceAt(v)
		if m := float64(has/need) - 1; m < out.Margin {
			out.Margin, out.At, out.Has = m, v, has
		}
	}
	out.Top = t.Fastest(need)
	return out, nil
}

// Fastest is the speed at which the force along the axis has fallen to need;
// 0: not even at rest is there so much. Range, accuracy, source: as ForceAt.
func (t Train) Fastest(need unit.Force) unit.Speed {
	if t.ForceAt(0) < need {
		return 0
	}
	lo, hi := unit.Speed(0), unit.Speed(1e-3)
	for t.ForceAt(hi) >= need && hi < 1e3 {
		hi *= 2
	}
	for range 60 {
		if mid := (lo + hi) / 2; t.ForceAt(mid) >= need {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo
}
