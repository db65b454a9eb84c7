// SPDX-License-Identifier: Apache-2.0

package optics

import "math"

// Prior is what is known of a camera before any corner was seen.
type Prior struct {
	Lens  Lens // expected values; coefficients that are held keep them
	Sigma Lens // standard deviation of each: 0 holds it, +Inf leaves it free
	// Square ties fy to fx (their ratio stays that of Lens); Sigma.Fy is then unused.
	Square bool
	// Height over the board's plane, metres, and its standard deviation; a
	// deviation of 0 or +Inf means that nothing is known.
	Height, HeightSigma float64
	// Relief are ways in which the board may not be flat; each is fitted too. None: it is flat.
	Relief []Rise
}

// Free leaves the named coefficients entirely to the corners, from a start at
// the picture's centre; the focal lengths are found by Calibrate itself.
func Free(image [2]int, radial int, decentring, square bool) Prior {
	inf := math.Inf(1)
	p := Prior{Square: square, Sigma: Lens{Fx: inf, Fy: inf, Cx: inf, Cy: inf}}
	p.Lens = Ideal(image[0], image[1], 1)
	for i, k := range []*float64{&p.Sigma.K1, &p.Sigma.K2, &p.Sigma.K3} {
		if i < radial {
			*k = inf
		}
	}
	if decentring {
		p.Sigma.P1, p.Sigma.P2 = inf, inf
	}
	return p
}

// coefficients lists a lens's numbers in the order of the fit.
func (l *Lens) coefficients() [9]*float64 {
	return [9]*float64{&l.Fx, &l.Fy, &l.Cx, &l.Cy, &l.K1, &l.K2, &l.P1, &l.P2, &l.K3}
}

// free returns the indices of the coefficients to be fitted.
func (p Prior) free() []int {
	var out []int
	for i, s := range p.Sigma.coefficients() {
		if *s > 0 && !(p.Square && i == 1) {
			out = append(out, i)
		}
	}
	return out
}

// known returns the free coefficients with a finite deviation.
func (p Prior) known() []int {
	var out []int
	s := p.Sigma.coefficients()
	for _, i := range p.free() {
		if !math.IsInf(*s[i], 1) {
			out = append(out, i)
		}
	}
	return out
}

func (p Prior) knowsHeight() bool { return p.HeightSigma > 0 && !math.IsInf(p.HeightSigma, 1) }
