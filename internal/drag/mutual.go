// SPDX-License-Identifier: Apache-2.0

package drag

import (
	"fmt"

	"boardhand/internal/magnet"
	"boardhand/internal/unit"
)

// Apart is the centre distance beyond which two standing pieces leave each
// other alone: their foot magnets' repulsion stays below the static friction mu
// of the lighter piece. It is the touching distance when they never move each
// other. Range: up to 300 mm. Accuracy 0.01 mm. Source: direct integration over
// the charged discs; Coulomb friction.
func Apart(a, b magnet.Cylinder, lighter unit.Mass, mu float64) (unit.Length, error) {
	if !(float64(lighter) > 0 && float64(lighter) <= mostMass) || !(mu > 0 && mu <= mostFriction) {
		return 0, fmt.Errorf("mass must be above 0 and at most %g kg, friction at most %g; got %v, %g",
			mostMass, mostFriction, lighter, mu)
	}
	hold := mu * float64(lighter) * Gravity
	lo, hi := (a.Radius()+b.Radius())*1.0001, 0.3
	pushes := func(d float64) (bool, error) {
		f, err := magnet.SideBySide(a, b, unit.Length(d))
		return f > hold || -f > hold, err
	}
	if bad, err := pushes(lo); err != nil || !bad {
		return unit.Length(lo), err
	}
	if bad, err := pushes(hi); err != nil || bad {
		return 0, fmt.Errorf("the foot magnets push each other away even 300 mm apart: use smaller ones (%v)", err)
	}
	hi, err := narrow(lo, hi, 1e-6, pushes)
	return unit.Length(hi), err
}
