// SPDX-License-Identifier: Apache-2.0

package light

import (
	"math"

	"boardhand/internal/sight/pixels"
)

// Relit is a picture with the change taken out, inside a box. now and then are those that
// the change was found between.
func (c *Change) Relit(now, then *pixels.Image, b pixels.Box) *pixels.Image {
	q := &pixels.Image{W: now.W, H: now.H, Reduce: now.Reduce}
	n := len(now.L)
	all := make([]float32, 4*n)
	q.L, q.A, q.B, q.Noise = all[:n:n], all[n:2*n:2*n], all[2*n:3*n:3*n], all[3*n:]
	copy(q.Noise, now.Noise)
	blind := make([]bool, n)
	a, t := now.Softened(), then.Softened()
	for i := range b.Each(now.W) {
		x, y := i%now.W, i/now.W
		k := min(c.rows-1, y/CellSide)*c.cols + min(c.cols-1, x/CellSide)
		f, steep := c.at(x, y, a[i]-t[i])
		q.L[i], q.A[i], q.B[i] = now.L[i]-f.change[0], now.A[i]-f.change[1], now.B[i]-f.change[2]
		if f.added != [3]float32{} {
			q.Noise[i] *= unveil(q, now, i, f.added)
		}
		blind[i] = steep || c.full[k] > 0.5 && c.change[0][k] > changed || f.added != [3]float32{} && c.likeness[k] > alike && c.contrast[k] < washedOut
	}
	q.Blind = blind
	return q
}

// at is the light at a pixel whose brightness changed by so much: between cells linear,
// but where a shadow ends, that of the neighbouring cell it
// fits; steep says that it ends there suddenly.
func (c *Change) at(x, y int, change float32) (f light, steep bool) {
	u, v := (float32(x)+0.5)/CellSide-0.5, (float32(y)+0.5)/CellSide-0.5
	u, v = max(0, min(float32(c.cols-1), u)), max(0, min(float32(c.rows-1), v))
	x0, y0 := min(int(u), max(0, c.cols-2)), min(int(v), max(0, c.rows-2))
	lo, hi, best, miss := float32(math.Inf(1)), float32(math.Inf(-1)), 0, float32(math.Inf(1))
	for j := max(0, y0-1); j <= min(c.rows-1, y0+2); j++ {
		for i := max(0, x0-1); i <= min(c.cols-1, x0+2); i++ {
			k := j*c.cols + i
			d := c.level[k]
			lo, hi = min(lo, d), max(hi, d)
			if m := abs(change - d); m < miss {
				best, miss = k, m
			}
		}
	}
	if hi-lo > edge {
		for j := range f.change {
			f.change[j], f.added[j] = c.times[j][best], c.plus[j][best]
		}
		return f, hi-lo > cliff
	}
	fx, fy, k := u-float32(x0), v-float32(y0), y0*c.cols+x0
	for j := range f.change {
		f.change[j] = mix(c.times[j], k, c.cols, fx, fy)
		f.added[j] = mix(c.plus[j], k, c.cols, fx, fy)
	}
	return f, false
}

func mix(v []float32, k, cols int, fx, fy float32) float32 {
	return (1-fy)*((1-fx)*v[k]+fx*v[k+1]) + fy*((1-fx)*v[k+cols]+fx*v[k+cols+1])
}

func abs(v float32) float32 { return float32(math.Abs(float64(v))) }

// unveil takes added light off a pixel of q, which shows now, and says by what factor its
// noise grows.
func unveil(q, now *pixels.Image, i int, added [3]float32) float32 {
	was := now.Levels(i)
	var l [3]float32
	var before, after float32
	for j := range l {
		is := max(1, was[j]-added[j])
		before, after = before+was[j]+pixels.Black, after+is+pixels.Black
		l[j] = float32(math.Log(float64(is + pixels.Black)))
	}
	q.L[i], q.A[i], q.B[i] = (l[0]+l[1]+l[2])/3, l[0]-l[1], l[2]-l[1]
	return before / after
}
