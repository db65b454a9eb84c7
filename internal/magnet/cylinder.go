// SPDX-License-Identifier: Apache-2.0

// Package magnet computes fields of and forces between upright, axially
// magnetised cylinders: a drive magnet under a board and a disc in a base.
//
// The model is the charged-disc one: a uniformly magnetised cylinder acts as
// two discs with surface charge ±Br on its faces. It is arithmetic only.
// Against measurement such a model is good to 10–15 %: Vokoun et al., J. Magn.
// Magn. Mater. 323 (2011) 55 ("less than 10 %" for arrays), Vokoun and
// Beleggia, J. Magn. Magn. Mater. 350 (2014) 174 ("within about 15 %").
package magnet

import (
	"fmt"
	"math"

	"boardhand/internal/unit"
)

// Mu0 is the magnetic constant in H/m (the defined value before 2019, equal to
// the measured one to 10⁻⁹).
const Mu0 = 4e-7 * math.Pi

// Cylinder is an upright magnet, magnetised along its axis. A negative Br
// means it stands the other way up.
type Cylinder struct {
	Diameter, Thickness unit.Length
	Br                  unit.FluxDensity
}

// The sizes for which the integrals were checked, metres and tesla.
const (
	leastDiameter, mostDiameter   = 0.5e-3, 0.2
	leastThickness, mostThickness = 0.1e-3, 2.0
	mostBr                        = 2.0
)

// Radius is half the diameter, in metres.
func (c Cylinder) Radius() float64 { return float64(c.Diameter) / 2 }

// Moment is the magnetic moment Br·πR²L/μ0 in A·m².
func (c Cylinder) Moment() float64 {
	return float64(c.Br) * math.Pi * c.Radius() * c.Radius() * float64(c.Thickness) / Mu0
}

// WithBr is the same cylinder at another remanence.
func (c Cylinder) WithBr(br unit.FluxDensity) Cylinder {
	c.Br = br
	return c
}

// Check says what is wrong with the cylinder's sizes.
func (c Cylinder) Check() error {
	if err := within("magnet diameter", float64(c.Diameter), leastDiameter, mostDiameter); err != nil {
		return err
	}
	if err := within("magnet thickness", float64(c.Thickness), leastThickness, mostThickness); err != nil {
		return err
	}
	if !(math.Abs(float64(c.Br)) <= mostBr) {
		return fmt.Errorf("remanence must be within ±%g T; got %v: sintered magnets reach 1.5 T", mostBr, c.Br)
	}
	return nil
}

// within checks a length in metres.
func within(what string, v, lo, hi float64) error {
	if v >= lo && v <= hi { // false for NaN
		return nil
	}
	return fmt.Errorf("%s must be %v to %v; got %v", what, unit.Length(lo), unit.Length(hi), unit.Length(v))
}
