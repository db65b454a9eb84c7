// SPDX-License-Identifier: Apache-2.0

// Package axes reads from a rig what its two axes can do: what their motors
// give through their gears, and where the carriage gets between its ends and
// walls.
package axes

import (
	"fmt"

	"boardhand/internal/drive"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// Named is one axis by name, x or y.
func Named(r *rig.Rig, name string) rig.Axis {
	if name == "y" {
		return r.Axis.Y
	}
	return r.Axis.X
}

// Train is an axis' motor and gearing on the rig's supply.
func Train(r *rig.Rig, a rig.Axis) (drive.Train, error) {
	travel, err := perTurn(a)
	if err != nil {
		return drive.Train{}, err
	}
	share, err := efficiency(a)
	if err != nil {
		return drive.Train{}, err
	}
	t := drive.Train{Travel: travel, Gearing: a.Motor.Gearing, Efficiency: share, Counts: a.Motor.Counts}
	t.Motor, err = motor(r, a.Motor)
	return t, err
}

// perTurn is the travel a turn of an axis' pinion, pulley or screw.
func perTurn(a rig.Axis) (unit.Length, error) {
	switch a.Drive {
	case "rack":
		return drive.Rack(a.Module, a.Teeth)
	case "belt":
		return drive.Belt(a.Pitch, a.Teeth)
	case "screw":
		return drive.Lead(a.Lead)
	}
	return 0, fmt.Errorf("axis drive must be rack, belt or screw; got %q", a.Drive)
}

func efficiency(a rig.Axis) (float64, error) {
	if a.Efficiency > 0 {
		return a.Efficiency, nil
	}
	if a.Drive != "screw" {
		return rackShare, nil
	}
	return drive.Screw{Mean: max(screwMean, a.Lead/2), Lead: a.Lead, Flank: unit.Degrees(15), Friction: screwFriction}.Efficiency()
}

// motor is a motor on the rig's supply, or on its own rated voltage.
func motor(r *rig.Rig, m rig.Motor) (drive.Motor, error) {
	dc := drive.DC{Stall: m.StallTorque, Free: m.FreeSpeed}
	switch {
	case m.Kind == "stepper" && m.Inductance > 0 && m.Current > 0 && m.FullSteps > 0:
		v := m.Voltage
		if r.Power.Voltage > 0 {
			v = r.Power.Voltage
		}
		s := drive.Stepper{Hold: m.StallTorque, Voltage: v, Current: m.Current, Inductance: m.Inductance, FullSteps: m.FullSteps}
		return s, s.Check()
	case m.Kind != "stepper" && m.Voltage > 0 && r.Power.Driven(m) > 0:
		return dc.AtVoltage(m.Voltage, r.Power.Driven(m))
	}
	return dc, dc.Check()
}
