// SPDX-License-Identifier: Apache-2.0

package optics

import (
	"fmt"
	"math"

	"boardhand/internal/linear"
)

// Prior is what is known of a camera before any corner was seen.
type Prior struct {
	Lens  Lens // expected values; coefficients that are held keep them
	Sigma Lens // standard deviation of each: 0 holds it, +Inf leaves it free
	// Square ties fy to fx (their ratio stays that of Lens); Sigma.Fy is then unused.
	Square bool
	// Correlation of the coefficients that are free and known, strictly below the diagonal, row by
	// row in the order of Lens; nil: they are known independently.
	Correlation []float64
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

// root is that of the correlations of n known coefficients; ErrSingular where no measurement has such.
func (p Prior) root(n int) (linear.Root, error) {
	m, next := linear.NewSymmetric(n), 0
	for i := range n {
		for j := range i {
			if next < len(p.Correlation) {
				m.Row(i)[j] = p.Correlation[next]
			}
			next++
		}
		m.Row(i)[i] = 1
	}
	if len(p.Correlation) > 0 && len(p.Correlation) != next {
		return linear.Root{}, fmt.Errorf("%d correlations of %d coefficients: %w", len(p.Correlation), n, ErrSingular)
	}
	root, err := m.Factor()
	return root, determined(err)
}

func (p Prior) knowsHeight() bool { return p.HeightSigma > 0 && !math.IsInf(p.HeightSigma, 1) }
