// SPDX-License-Identifier: Apache-2.0

package background

import (
	"math"
	"slices"

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
	f := newRobustFit(now, where)
	f.then = make([][3]float64, len(where))
	for c := range f.want {
		f.want[c] = make([]float64, len(where))
	}
	for n, i := range where {
		p := then(i)
		f.then[n] = [3]float64{float64(p.L[i]), float64(p.A[i]), float64(p.B[i])}
		f.want[0][n], f.want[1][n], f.want[2][n] = float64(p.L[i]-now.L[i]), float64(p.A[i]-now.A[i]), float64(p.B[i]-now.B[i])
	}
	k.l[0], k.a[0], k.b[0] = medianOfCopy(f.want[0]), medianOfCopy(f.want[1]), medianOfCopy(f.want[2])
	light, reds, blues := f.lightRows(), f.colourRows(now.A), f.colourRows(now.B)
	for range fitRounds {
		f.weigh(&k)
		f.solve(k.l[:], f.want[0], light)
		f.solve(k.a[:], f.want[1], reds)
		f.solve(k.b[:], f.want[2], blues)
	}
	return k
}

// medianOfCopy is the median of numbers that keep their order.
func medianOfCopy(v []float64) float64 { return numeric.Median(slices.Clone(v)) }

// robustFit is one robust fit in progress.
type robustFit struct {
	now     *pixels.Image
	where   []int32
	weights []float64
	places  [][3]float64 // of the samples, as pixels.Image.Place tells them
	then    [][3]float64 // what the planes are to become
	want    [3][]float64 // and by how much they change
}

func newRobustFit(now *pixels.Image, where []int32) *robustFit {
	f := &robustFit{now: now, where: where, weights: make([]float64, len(where)), places: make([][3]float64, len(where))}
	for n, i := range where {
		f.places[n][0], f.places[n][1], f.places[n][2] = now.Place(int(i))
	}
	return f
}

// weigh gives every sample its Cauchy weight from all three residuals.
func (f *robustFit) weigh(k *Illumination) {
	r := make([]float64, len(f.where))
	for n, i := range f.where {
		l, a, b := k.ApplyAt(f.now, int(i), f.places[n])
		p := &f.then[n]
		dl, da, db := p[0]-l, p[1]-a, p[2]-b
		r[n] = math.Sqrt(dl*dl + da*da + db*db)
	}
	s := math.Max(leastSigma, 1.0*medianOfCopy(r))
	for n := range r {
		z := r[n] / (tailSigmas * s)
		f.weights[n] = 1 / (1 + z*z) / (1 + z*z) // numeric.RobustDivisor, but for the last bit, on which recorded readings hang
	}
}

// mostCoefficients is how many coefficients one plane has at most.
const mostCoefficients = 8

// solve fits one plane's coefficients: rows has as many regressors of each sample.
func (f *robustFit) solve(c, want, rows []float64) {
	n := len(c)
	var m [mostCoefficients][mostCoefficients + 1]float64
	for i := range n {
		m[i][i] = ridge * float64(len(f.where))
	}
	m[0][0] = 1e-9
	for s, t := range want {
		v, w := rows[s*n:][:n], f.weights[s]
		for p, x := range v {
			x *= w
			row := &m[p]
			for q := p; q < len(v); q++ {
				row[q] += x * v[q]
			}
			row[n] += x * t
		}
	}
	var full [mostCoefficients][]float64
	for p := range n {
		for q := range p {
			m[p][q] = m[q][p]
		}
		full[p] = m[p][:n+1]
	}
	if x, ok := numeric.Solve(full[:n]); ok {
		copy(c, x)
	}
}

// lightRows writes the brightness regressors of the samples.
func (f *robustFit) lightRows() []float64 {
	v := make([]float64, 0, 8*len(f.where))
	for _, p := range f.places {
		x, y, l := p[0], p[1], p[2]
		v = append(v, 1, x, y, x*x, x*y, y*y, l, l*l)
	}
	return v
}

// colourRows writes the regressors of one colour plane.
func (f *robustFit) colourRows(plane []float32) []float64 {
	v := make([]float64, 0, 5*len(f.where))
	for n, i := range f.where {
		p := &f.places[n]
		v = append(v, 1, p[0], p[1], p[2], float64(plane[i]))
	}
	return v
}

// ApplyAt gives pixel i of p, whose place is known, in the other picture's light.
func (k *Illumination) ApplyAt(p *pixels.Image, i int, place [3]float64) (l, a, b float64) {
	x, y, m := place[0], place[1], place[2]
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
	columns := make([]float64, b.X1)
	for x := b.X0; x < b.X1; x++ {
		columns[x] = p.PlaceAt(x, 0)[0]
	}
	for y := b.Y0; y < b.Y1; y++ {
		place := p.PlaceAt(0, y)
		for x := b.X0; x < b.X1; x++ {
			i := y*p.W + x
			place[0], place[2] = columns[x], p.Lightness(i)
			l, a, b := k.ApplyAt(p, i, place)
			q.L[i], q.A[i], q.B[i] = float32(l), float32(a), float32(b)
		}
	}
	return q
}
