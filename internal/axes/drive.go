// SPDX-License-Identifier: Apache-2.0

package axes

import (
	"math"

	"boardhand/internal/drive"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// Load is what an axis must move at its full acceleration, while the magnet
// rubs on the underside and a piece is in tow, newtons both.
func Load(a rig.Axis, rubbing, tow float64) drive.Load {
	return drive.Load{Mass: a.Moved + Rotor(a), Friction: a.Friction + unit.Force(rubbing), Drag: unit.Force(tow), Accel: a.Acceleration}
}

// Rotor is what an axis' rotor weighs as the axis feels it, kg: J·(2π·i/travel)², i
// rotor turns per turn of the pinion; 0 where the rig gives no inertia. Exact.
// Source: equal kinetic energy, ½·J·ω² = ½·m·v².
func Rotor(a rig.Axis) unit.Mass {
	travel, err := perTurn(a)
	if err != nil || a.Motor.Inertia <= 0 {
		return 0
	}
	turns := 2 * math.Pi * a.Motor.Gearing * max(a.Motor.Gearbox, 1) / float64(travel)
	return unit.Mass(float64(a.Motor.Inertia) * turns * turns)
}

// Times are how long an axis takes for a way by itself, seconds: with soft
// starts, as it is driven, and with hard ones. Source: drive.SCurve,
// drive.Trapezoid. Exact.
func Times(a rig.Axis, way unit.Length) (soft, hard float64, err error) {
	s, err := drive.SCurve(way, drive.Limits{Speed: a.Speed, Acceleration: a.Acceleration, Jerk: a.Jerk})
	if err != nil {
		return 0, 0, err
	}
	h, err := drive.Trapezoid(way, a.Speed, a.Acceleration)
	return s.Duration(), h.Duration(), err
}
