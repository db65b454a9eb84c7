// SPDX-License-Identifier: Apache-2.0

package magnet

import (
	"math"

	"boardhand/internal/unit"
)

// What follows is the other route to a value that the program computes: closed
// forms and energies that only the tests of this package need.

// OnAxis is the flux density on the axis, d from the face, outside the magnet:
// B = (Br/2)[(d+L)/√(R²+(d+L)²) − d/√(R²+d²)]. Range d 0–1000 mm. Exact for
// uniform magnetisation. Source: textbook; e-magnetica.pl.
func OnAxis(c Cylinder, d unit.Length) (unit.FluxDensity, error) {
	if err := c.Check(); err != nil {
		return 0, err
	}
	if err := within("distance from the face", float64(d), 0, mostOffset); err != nil {
		return 0, err
	}
	r, far, near := c.Radius(), float64(d+c.Thickness), float64(d)
	return c.Br / 2 * unit.FluxDensity(far/math.Hypot(r, far)-near/math.Hypot(r, near)), nil
}

// Energy is the interaction energy in joules of the same arrangement, zero far
// apart; the pull is its slope over gap and over offset.
func Energy(lower, upper Cylinder, gap, offset unit.Length) (float64, error) {
	if err := checkPlace(lower, upper, gap, offset); err != nil {
		return 0, err
	}
	p := stacked(lower, upper, float64(gap))
	return p.energy(float64(offset), float64(gap)), nil
}

// energy is the interaction energy in joules.
func (p *discs) energy(x, w float64) float64 {
	var room [mostSamples]sample
	sum := 0.0
	for _, s := range p.samples(room[:0], x, w) {
		v := 0.0
		for _, f := range p.face[:p.faces] {
			v += f.s * ringPotential(s.d, x, f.h)
		}
		sum += s.weight * v
	}
	return p.scale * sum
}

// ringPotential integrates 1/r round the same circle.
func ringPotential(d, x, h float64) float64 {
	far := (d+x)*(d+x) + h*h
	near := (d-x)*(d-x) + h*h
	k, _, _ := elliptic(4*d*x/far, near/far)
	return 4 * k / math.Sqrt(far)
}

// Dipoles is the coaxial attraction of two magnets as point dipoles, newtons,
// z between centres in metres: 3μ0·m1·m2/(2πz⁴). Range: z over ten diameters
// for 1 %. Source: any electromagnetism text, e.g. Griffiths, Introduction to
// Electrodynamics.
func Dipoles(a, b Cylinder, z float64) float64 {
	return 3 * Mu0 * a.Moment() * b.Moment() / (2 * math.Pi * z * z * z * z)
}
