// SPDX-License-Identifier: Apache-2.0

package magnet

import (
	"fmt"
	"math"

	"boardhand/internal/unit"
)

// FluxIndexLimit is the index from which a loose small magnet counts as
// hazardous, kG²·mm²: EN 71-1:2005+A8:2009, 4.23.2; US 16 CFR 1262.
const FluxIndexLimit = 50.0

// The probe of the flux index test: active area and its distance behind the
// tip. Source: Canada, Toys Regulations SOR/2011-17, Schedule 10.
const (
	probeDiameter = 0.76e-3
	probeDepth    = 0.38e-3
)

// FluxIndex is the flux index of a disc magnet in kG²·mm²: the largest axial
// flux density over the face, squared, times the area of the face. The density
// is averaged over a probe 0.76 mm across, 0.38 mm above the face. Range: any
// cylinder, diameter from 1 mm. Accuracy 1 % of the ideal magnet; a real one
// lies below its remanence. Method: SOR/2011-17, Schedule 10.
func FluxIndex(c Cylinder) (float64, error) {
	b, _, err := FaceField(c)
	area := math.Pi * c.Radius() * c.Radius() * 1e6
	return b * b * 100 * area, err
}

// FaceField is the largest probe reading over the face in tesla and the
// distance from the axis where it is found, metres.
func FaceField(c Cylinder) (tesla, at float64, err error) {
	if err := c.Check(); err != nil {
		return 0, 0, err
	}
	if c.Radius() < probeDiameter/2*1.3 {
		return 0, 0, fmt.Errorf("flux index needs a magnet of at least 1 mm; got %v", c.Diameter)
	}
	for i := range faceSteps + 1 {
		rho := c.Radius() * float64(i) / faceSteps
		if b := math.Abs(probe(c, rho)); b > tesla {
			tesla, at = b, rho
		}
	}
	return tesla, at, nil
}

// probe averages the axial field over the probe's disc at rho.
func probe(c Cylinder, rho float64) float64 {
	const rings, spokes = probeRings, probeSpokes
	z := float64(c.Thickness)/2 + probeDepth
	sum := 0.0
	for i := range rings {
		r := probeDiameter / 2 * math.Sqrt((float64(i)+0.5)/rings)
		for k := range spokes {
			a := 2 * math.Pi * (float64(k) + 0.5) / spokes
			sum += derbyOlbert(c, math.Hypot(rho+r*math.Cos(a), r*math.Sin(a)), z).Axial
		}
	}
	return sum / (rings * spokes)
}

// The static fields that concern implants: devices switch to magnet mode from
// about 1 mT (US FDA study, 2021, as reported); in general not affected below
// 0.5 mT (ICNIRP, static field guidelines, 1994).
const (
	ImplantSwitch = unit.FluxDensity(1e-3)
	ImplantQuiet  = unit.FluxDensity(0.5e-3)
)

// Reach is how far a field reaches from a magnet: along the axis from its face
// and sideways from the axis in the middle plane, metres.
type Reach struct{ Axis, Side float64 }

// FieldReach is where the flux density of a lone magnet falls to level.
// Range: level 0.01 mT–100 mT. Accuracy 0.01 mm of the ideal magnet. Source:
// the field formulas of this package.
func FieldReach(c Cylinder, level unit.FluxDensity) (Reach, error) {
	if err := c.Check(); err != nil {
		return Reach{}, err
	}
	if !(level >= 1e-5 && level <= 0.1) {
		return Reach{}, fmt.Errorf("field level must be 0.01–100 mT; got %v", level)
	}
	half := float64(c.Thickness) / 2
	axis := fallsTo(float64(level), 0, func(d float64) float64 {
		return math.Abs(derbyOlbert(c, 0, half+d).Axial)
	})
	side := fallsTo(float64(level), c.Radius(), func(d float64) float64 {
		return math.Abs(derbyOlbert(c, d, 0).Axial)
	})
	return Reach{axis, side}, nil
}

// fallsTo finds where a falling f passes level, from start out to 10 m.
func fallsTo(level, start float64, f func(float64) float64) float64 {
	lo, hi := start+1e-6, 10.0
	if f(lo) <= level {
		return start
	}
	for hi-lo > 1e-8 {
		mid := (lo + hi) / 2
		if f(mid) > level {
			lo = mid
		} else {
			hi = mid
		}
	}
	return hi
}
