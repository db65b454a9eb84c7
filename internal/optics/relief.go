// SPDX-License-Identifier: Apache-2.0

package optics

import (
	"math"

	"boardhand/internal/frame"
)

// Rise is one way in which a surface that should be flat may rise over its mean plane.
type Rise struct {
	Of    func(at frame.Spot[frame.Board]) float64 // share of it at a place
	Sigma float64                                  // standard deviation of its size, m
}

// Warped are the ways in which a square field may be warped by about so much from peak to valley,
// metres, half its side being half: products of Legendre's polynomials along both sides, from the
// second order on. They stand square to each other and to every plane, so that z = 0 is the plane
// that fits the field best; each order is taken for half as large as the one before.
// Source: A. M. Legendre's recurrence, NIST Digital Library of Mathematical Functions, 18.9.1.
func Warped(half, warp float64) (out []Rise) {
	for order := 2; order <= warpOrders; order++ {
		for a := 0; a <= order; a++ {
			b := order - a
			out = append(out, Rise{Sigma: warpShare * warp * math.Pow(0.5, float64(order-2)),
				Of: func(at frame.Spot[frame.Board]) float64 { return legendre(a, at.X/half) * legendre(b, at.Y/half) }})
		}
	}
	return out
}

// legendre is Legendre's polynomial of degree n at x.
func legendre(n int, x float64) float64 {
	before, now := 0.0, 1.0
	for k := range n {
		before, now = now, (float64(2*k+1)*x*now-float64(k)*before)/float64(k+1)
	}
	return now
}
