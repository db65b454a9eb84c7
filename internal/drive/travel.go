// SPDX-License-Identifier: Apache-2.0

// Package drive computes horizontal drives: racks, belts and screws, motors
// and gearing, the force left at a speed, and motion profiles in closed form.
// Arithmetic only; SI units inside, lengths along the axis of motion.
package drive

import (
	"fmt"
	"math"

	"boardhand/internal/unit"
)

// above says that a quantity must be over 0 and at most most.
func above(what string, v, most float64) error {
	if v > 0 && v <= most { // false for NaN
		return nil
	}
	return fmt.Errorf("%s must be above 0 and at most %g (SI units); got %g", what, most, v)
}

// firstOf returns the first error.
func firstOf(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// Rack is the travel a turn of a pinion on a rack: π·m·z. Exact at the pitch
// line. Source: gear geometry, ISO 53, ISO 54.
func Rack(module unit.Length, teeth int) (unit.Length, error) {
	err := firstOf(above("module", float64(module), mostModule), above("teeth", float64(teeth), mostTeeth))
	return unit.Length(math.Pi * float64(module) * float64(teeth)), err
}

// Belt is the travel a turn of a timing-belt pulley: pitch × teeth. Exact.
// Source: maker practice.
func Belt(pitch unit.Length, teeth int) (unit.Length, error) {
	err := firstOf(above("belt pitch", float64(pitch), mostPitch), above("teeth", float64(teeth), mostTeeth))
	return pitch * unit.Length(teeth), err
}

// Lead is the travel a turn of a screw: its lead. Exact.
func Lead(lead unit.Length) (unit.Length, error) {
	return lead, above("screw lead", float64(lead), mostLead)
}

// CountsPerMetre is how many motor counts or microsteps move one metre:
// counts × gearing / travel. Source: Grbl, doc/markdown/settings.md, $100.
func CountsPerMetre(counts int, gearing float64, travel unit.Length) (float64, error) {
	err := firstOf(above("counts a turn", float64(counts), 1e7), above("gearing", gearing, 1e4),
		above("travel a turn", float64(travel), 10))
	if err != nil {
		return 0, err
	}
	return float64(counts) * gearing / float64(travel), nil
}
