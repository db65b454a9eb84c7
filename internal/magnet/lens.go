// SPDX-License-Identifier: Apache-2.0

package magnet

import "math"

// lens is the area common to two circles whose centres are d apart, m². It is
// the number of point pairs of two discs that lie at lateral distance d: with
// it the fourfold sum over two discs becomes a single one over d.
func lens(r1, r2, d float64) float64 {
	if d >= r1+r2 {
		return 0
	}
	if r1 == r2 {
		u := d / (2 * r1)
		return 2 * r1 * r1 * (math.Acos(u) - u*math.Sqrt(1-u*u))
	}
	if d <= math.Abs(r1-r2) {
		r := min(r1, r2)
		return math.Pi * r * r
	}
	c1 := (d*d + r1*r1 - r2*r2) / (2 * d)
	c2 := d - c1
	half := math.Sqrt(max(r1*r1-c1*c1, 0)) // half the common chord
	return r1*r1*math.Atan2(half, c1) + r2*r2*math.Atan2(half, c2) - d*half
}
