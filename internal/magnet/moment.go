// SPDX-License-Identifier: Apache-2.0

package magnet

import (
	"math"

	"boardhand/internal/unit"
)

// Load is what the lower magnet does to the upper one: the pull at the middle
// of its lower face, and the moment about that point that tips its top towards
// the lower magnet's axis, N·m.
type Load struct {
	Pull
	Tip float64
}

// LoadOn sums the lower magnet's field over the charged faces of the upper
// one. Range and frame as Force. Accuracy 1e-3 of the largest pull times the
// radius for gaps from 1 mm. Source: force on magnetic charge, σ·H with σ = Br;
// field by Derby and Olbert (2010). A second route to Force, and the only one
// here to the moment.
func LoadOn(lower, upper Cylinder, gap, offset unit.Length) (Load, error) {
	if err := checkPlace(lower, upper, gap, offset); err != nil {
		return Load{}, err
	}
	var sum Load
	r, thick := upper.Radius(), float64(upper.Thickness)
	rule := rules[loadRings]
	for i, u := range rule.node {
		rho := r * math.Sqrt((u+1)/2)
		w := rule.weight[i] / 4 * r * r * 2 * math.Pi / loadSpokes
		for k := range loadSpokes {
			a := 2 * math.Pi * (float64(k) + 0.5) / loadSpokes
			x, y := rho*math.Cos(a), rho*math.Sin(a)
			for _, f := range [2]face{{0, -w}, {thick, w}} {
				hx, hz := lateralField(lower, float64(offset)+x, y, float64(gap)+f.h)
				sum.Axial -= f.s * hz
				sum.Lateral -= f.s * hx
				sum.Tip -= f.s * (f.h*hx - x*hz)
			}
		}
	}
	s := float64(upper.Br) / Mu0
	sum.Axial, sum.Lateral, sum.Tip = sum.Axial*s, sum.Lateral*s, sum.Tip*s
	return sum, nil
}

// lateralField is the field at (x, y), z above the magnet's upper face: its
// part along x and its axial part.
func lateralField(c Cylinder, x, y, z float64) (along, axial float64) {
	rho := math.Hypot(x, y)
	f := derbyOlbert(c, rho, z+float64(c.Thickness)/2)
	if rho == 0 {
		return 0, f.Axial
	}
	return f.Radial * x / rho, f.Axial
}
