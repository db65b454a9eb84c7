// SPDX-License-Identifier: Apache-2.0

package gantry

import (
	"fmt"

	"boardhand/internal/axes"
	"boardhand/internal/carry/plan"
	"boardhand/internal/drive"
	"boardhand/internal/rig"
)

// Axis is a horizontal axis as the rig file has it.
type Axis struct {
	Name     string // "x" or "y"
	Bounds   plan.Bounds
	Counts   int     // of its motor, a turn; 0: not said
	PerMetre float64 // counts or steps a metre of travel
	Travel   float64 // m
}

// AxisOf reads an axis; an error names the key that is wrong.
func AxisOf(r *rig.Rig, name string) (Axis, error) {
	a := axes.Named(r, name)
	train, err := axes.Train(r, a)
	if err != nil {
		return Axis{}, fmt.Errorf("axis.%s: %w", name, err)
	}
	per, err := drive.CountsPerMetre(train.Counts, train.Gearing, train.Travel)
	if err != nil {
		return Axis{}, fmt.Errorf("axis.%s.motor: %w", name, err)
	}
	return Axis{Name: name, Counts: train.Counts, PerMetre: per, Travel: float64(a.Travel),
		Bounds: plan.Bounds{Speed: float64(a.Speed), Accel: float64(a.Acceleration), Jerk: float64(a.Jerk)}}, nil
}
