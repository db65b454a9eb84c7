// SPDX-License-Identifier: Apache-2.0

package magnet

import "math"

// rule is a Gauss–Legendre rule on [-1, 1].
type rule struct{ node, weight []float64 }

var rules = func() (r [mostNodes + 1]rule) {
	for n := leastNodes; n <= mostNodes; n++ {
		r[n] = legendre(n)
	}
	return r
}()

// legendre computes nodes and weights by Newton's method on the Legendre
// recurrence; textbook (Press et al., Numerical Recipes, "gauleg").
func legendre(n int) rule {
	r := rule{make([]float64, n), make([]float64, n)}
	for i := range n {
		x := math.Cos(math.Pi * (float64(i) + 0.75) / (float64(n) + 0.5))
		var slope float64
		for range 20 {
			p, below := 1.0, 0.0
			for k := range n {
				j := float64(k)
				p, below = ((2*j+1)*x*p-j*below)/(j+1), p
			}
			slope = float64(n) * (x*p - below) / (x*x - 1)
			step := p / slope
			x -= step
			if math.Abs(step) < 1e-16 {
				break
			}
		}
		r.node[i], r.weight[i] = x, 2/((1-x*x)*slope*slope)
	}
	return r
}
