// SPDX-License-Identifier: Apache-2.0

package magnet

import "math"

// Field is a flux density in tesla: outward from the axis and along it.
type Field struct{ Radial, Axial float64 }

// derbyOlbert is the flux density at rho from the axis and z above the magnet's
// centre, metres, inside or outside, except on the rim itself, where it grows
// without bound. Range: rho 0–1000 mm, z ±1000 mm. Accuracy 1e-9 of Br. Source:
// N. Derby and S. Olbert, Am. J. Phys. 78 (2010) 229.
func derbyOlbert(c Cylinder, rho, z float64) Field {
	r, half := c.Radius(), float64(c.Thickness)/2
	gamma := (r - rho) / (r + rho)
	end := func(z float64) (radial, axial float64) {
		far := math.Hypot(z, rho+r)
		k := math.Hypot(z, r-rho) / far
		return r / far * cel(k, 1, 1, -1), z / far * cel(k, gamma*gamma, 1, gamma)
	}
	rTop, aTop := end(z + half)
	rLow, aLow := end(z - half)
	s := float64(c.Br) / math.Pi
	return Field{Radial: s * (rTop - rLow), Axial: s * r / (r + rho) * (aTop - aLow)}
}

// cel is Bulirsch's complete elliptic integral
// ∫₀^{π/2} (c cos²φ + s sin²φ)/((cos²φ + p sin²φ)√(cos²φ + kc² sin²φ)) dφ for
// kc > 0, p ≥ 0. Source: the procedure printed in Derby and Olbert (2010); from
// memory, checked against direct integration.
func cel(kc, p, c, s float64) float64 {
	const least = 1e-150 // keeps 1/kc and 1/p finite; no place off the rim gets here
	k := max(kc, least)
	p = max(p, least)
	em := 1.0
	p = math.Sqrt(p)
	s /= p
	f := c
	c += s / p
	g := k / p
	s = 2 * (s + f*g)
	p += g
	g = em
	em += k
	kk := k
	for range 60 {
		if math.Abs(g-k) <= g*celSettled {
			break
		}
		k = 2 * math.Sqrt(kk)
		kk = k * em
		f = c
		c += s / p
		g = kk / p
		s = 2 * (s + f*g)
		p += g
		g = em
		em += k
	}
	return math.Pi / 2 * (s + c*em) / (em * (em + p))
}
