// SPDX-License-Identifier: Apache-2.0

package axes

import (
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// Draw is what one thing takes from the supply.
type Draw struct {
	Name    string
	Current unit.Current
}

// Draws are what can be drawn at once: both axis motors at stall, and the electronics.
// A dc motor draws in proportion to the supply's voltage, a stepper through both phases.
func Draws(r *rig.Rig) []Draw {
	p := r.Power
	var out []Draw
	for _, name := range []string{"x", "y"} {
		m := Named(r, name).Motor
		i := m.Current
		if m.Kind == "stepper" {
			i *= 2 // both phases
		} else if m.Voltage > 0 && p.Voltage > 0 {
			i *= unit.Current(p.Voltage / m.Voltage)
		}
		out = append(out, Draw{name + " motor", i})
	}
	return append(out, Draw{"controller and camera", p.Logic})
}

// SupplyLoad is the sum of the draws.
func SupplyLoad(r *rig.Rig) unit.Current {
	sum := unit.Current(0)
	for _, l := range Draws(r) {
		sum += l.Current
	}
	return sum
}
