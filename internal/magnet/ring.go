// SPDX-License-Identifier: Apache-2.0

package magnet

import "math"

// elliptic gives the complete elliptic integrals K, E and D = (K−E)/k² for the
// parameter m = k² in [0, 1), with m1 = 1−m given apart so that m near 1 keeps
// its digits. Arithmetic–geometric mean, DLMF 19.8; 1e-15 relative.
func elliptic(m, m1 float64) (k, e, d float64) {
	b := math.Sqrt(m1)
	a := (1 + b) / 2
	g := math.Sqrt(b)
	q := m / (16 * a * a) // c₁²/m; c₁ = (1−b)/2 = m/(4a)
	c2 := q * m           // c₁²
	sum, power := q, 1.0
	for c2 > roundingLevel*roundingLevel*a*a {
		a, g = (a+g)/2, math.Sqrt(a*g)
		f := c2 / (16 * a * a)
		q *= f
		c2 *= f
		power *= 2
		sum += power * q
	}
	k = math.Pi / (a + g)
	return k, k * (1 - m/2 - m*sum), k * (0.5 + sum)
}

// ringField integrates (out, up)/r³ round a circle of radius d for a point at
// distance x from its axis and height h above its plane: the field of a unit
// charged ring, in closed form. Textbook (e.g. Jackson, Classical
// Electrodynamics, ch. 3); d, h > 0 or d ≠ x.
func ringField(d, x, h float64) (out, up float64) {
	far := (d+x)*(d+x) + h*h
	near := (d-x)*(d-x) + h*h
	_, e, dd := elliptic(4*d*x/far, near/far)
	s := 4 / math.Sqrt(far)
	e /= near
	return s * (2*d*dd/far + (x-d)*e), s * h * e
}
