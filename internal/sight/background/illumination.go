// SPDX-License-Identifier: Apache-2.0

package background

import (
	"math"

	"boardhand/internal/sight/numeric"
	"boardhand/internal/sight/pixels"
)

// Illumination carries one picture's light over to another's: for each of the three
// planes a smooth correction to add. The brightness correction varies over the
// picture (second order) and with the brightness itself (a camera's curve);
// the colour corrections vary linearly and with their own value.
type Illumination struct {
	l [8]float64 // 1, x, y, x², xy, y², l, l²
	a [5]float64 // 1, x, y, l, a
	b [5]float64 // 1, x, y, l, b
}

// FitIllumination finds the correction that makes now look like then where nothing
// changed: least squares re-weighted so that what changed counts little. then
// says which image a pixel is to look like.
func FitIllumination(now *pixels.Image, then func(int32) *pixels.Image, where []int32) Illumination {
	var k Illumination
	change := [3]func(int32) float64{
		func(i int32) float64 { return float64(then(i).L[i] - now.L[i]) },
		func(i int32) float64 { return float64(then(i).A[i] - now.A[i]) },
		func(i int32) float64 { return float64(then(i).B[i] - now.B[i]) },
	}
	k.l[0], k.a[0], k.b[0] = numeric.MedianOf(where, change[0]), numeric.MedianOf(where, change[1]), numeric.MedianOf(where, change[2])
	f := robustFit{now: now, where: where, weights: make([]float64, len(where))}
	for range fitRounds {
		f.weigh(&k, then)
		f.solve(k.l[:], change[0], lightRow(now))
		f.solve(k.a[:], change[1], colourRow(now, now.A))
		f.solve(k.b[:], change[2], colourRow(now, now.B))
	}
	return k
}

// robustFit is one robust fit in progress.
type robustFit struct {
	now     *pixels.Image
	where   []int32
	weights []float64
}

// weigh gives every sample its Cauchy weight from all three residuals.
func (f *robustFit) weigh(k *Illumination, then func(int32) *pixels.Image) {
	r := make([]float64, len(f.where))
	for n, i := range f.where {
		l, a, b := k.ApplyAt(f.now, int(i))
		p := then(i)
		dl, da, db := float64(p.L[i])-l, float64(p.A[i])-a, float64(p.B[i])-b
		r[n] = math.Sqrt(dl*dl + da*da + db*db)
	}
	s := math.Max(leastSigma, 1.0*numeric.Median(append([]float64(nil), r...)))
	for n := range r {
		z := r[n] / (tailSigmas * s)
		f.weights[n] = 1 / (1 + z*z) / (1 + z*z) // numeric.RobustDivisor, but for the last bit, on which recorded readings hang
	}
}

// solve fits one plane's coefficients.
func (f *robustFit) solve(c []float64, want func(int32) float64, row func(int32, []float64)) {
	n := len(c)
	m := make([][]float64, n)
	for i := range m {
		m[i] = make([]float64, n+1)
		m[i][i] = ridge * float64(len(f.where))
	}
	m[0][0] = 1e-9
	v := make([]float64, n)
	for s, i := range f.where {
		row(i, v)
		w, t := f.weights[s], want(i)
		for p := range n {
			for q := p; q < n; q++ {
				m[p][q] += w * v[p] * v[q]
			}
			m[p][n] += w * v[p] * t
		}
	}
	for p := range n {
		for q := range p {
			m[p][q] = m[q][p]
		}
	}
	if x, ok := numeric.Solve(m); ok {
		copy(c, x)
	}
}

// lightRow writes the brightness regressors of a pixel.
func lightRow(p *pixels.Image) func(int32, []float64) {
	return func(i int32, v []float64) {
		x, y, l := p.Place(int(i))
		v[0], v[1], v[2], v[3], v[4], v[5], v[6], v[7] = 1, x, y, x*x, x*y, y*y, l, l*l
	}
}

// colourRow writes the regressors of one colour plane.
func colourRow(p *pixels.Image, plane []float32) func(int32, []float64) {
	return func(i int32, v []float64) {
		x, y, l := p.Place(int(i))
		v[0], v[1], v[2], v[3], v[4] = 1, x, y, l, float64(plane[i])
	}
}

// ApplyAt gives pixel i of p in the other picture's light.
func (k *Illumination) ApplyAt(p *pixels.Image, i int) (l, a, b float64) {
	x, y, m := p.Place(i)
	l = float64(p.L[i]) + k.l[0] + x*(k.l[1]+x*k.l[3]+y*k.l[4]) + y*(k.l[2]+y*k.l[5]) + m*(k.l[6]+m*k.l[7])
	a = float64(p.A[i])
	b = float64(p.B[i])
	return l, a + k.a[0] + x*k.a[1] + y*k.a[2] + m*k.a[3] + a*k.a[4], b + k.b[0] + x*k.b[1] + y*k.b[2] + m*k.b[3] + b*k.b[4]
}

// Apply is the image in the other picture's light, inside the box.
func (k *Illumination) Apply(p *pixels.Image, b pixels.Box) *pixels.Image {
	q := &pixels.Image{W: p.W, H: p.H, Reduce: p.Reduce, Noise: p.Noise}
	n := len(p.L)
	all := make([]float32, 3*n)
	q.L, q.A, q.B = all[:n:n], all[n:2*n:2*n], all[2*n:]
	for y := b.Y0; y < b.Y1; y++ {
		for i := y*p.W + b.X0; i < y*p.W+b.X1; i++ {
			l, a, b := k.ApplyAt(p, i)
			q.L[i], q.A[i], q.B[i] = float32(l), float32(a), float32(b)
		}
	}
	return q
}
