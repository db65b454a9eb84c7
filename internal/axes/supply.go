// SPDX-License-Identifier: Apache-2.0

package axes

import (
	"boardhand/internal/drive"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// Draw is what one thing takes from the supply.
type Draw struct {
	Name    string
	Current unit.Current
}

// Draws are what can be drawn at once: both axis motors, the lift's, and the electronics.
// A dc motor is taken at stall, which goes with its voltage; a stepper by drive.Stepper.Drawn,
// turning at its axis' speed against twice the axis' own friction and inertia: the magnet
// and a piece come on top. Accuracy: 30 % for steppers. The lift counts where the rig
// gives its current.
func Draws(r *rig.Rig) []Draw {
	p := r.Power
	var out []Draw
	for _, name := range []string{"x", "y"} {
		a := Named(r, name)
		m := a.Motor
		i := m.Current
		if m.Kind == "stepper" {
			i = stepperDraws(a, p)
		} else if m.Voltage > 0 && p.Driven(m) > 0 {
			i *= unit.Current(p.Driven(m) / m.Voltage)
		}
		out = append(out, Draw{name + " motor", i})
	}
	if r.Lift.Current > 0 {
		out = append(out, Draw{"lift motor", r.Lift.Current})
	}
	return append(out, Draw{"controller and camera", p.Logic})
}

// stepperDraws is what an axis' stepper takes from the supply. Without a resistance
// its rated voltage is that of its rated current through a phase.
func stepperDraws(a rig.Axis, p rig.Power) unit.Current {
	m := a.Motor
	r := m.Resistance
	if r == 0 && m.Current > 0 {
		r = unit.Resistance(float64(m.Voltage) / float64(m.Current))
	}
	watts := ownLoads * float64(Load(a, 0, 0).Needs()) * float64(a.Speed) / max(a.Efficiency, leastShare)
	s := drive.Stepper{Voltage: p.Voltage, Current: m.Current}
	return s.Drawn(r, watts)
}

// SupplyLoad is the sum of the draws.
func SupplyLoad(r *rig.Rig) unit.Current {
	sum := unit.Current(0)
	for _, l := range Draws(r) {
		sum += l.Current
	}
	return sum
}
