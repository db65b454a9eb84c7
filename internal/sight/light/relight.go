// SPDX-License-Identifier: Apache-2.0

package light

import (
	"math"
	"slices"

	"boardhand/internal/sight/pixels"
)

// Relit is a picture with the change taken out, inside a box. now and then are those that
// the change was found between. Where a shadow or a reflection ends, and under reflections,
// which lie on the board and hardly on what stands on it, a pixel may be in one of several
// lights: it is given in each.
func (c *Change) Relit(now, then *pixels.Image, b pixels.Box) *pixels.Image {
	isVeiled := slices.ContainsFunc(c.plus[:], func(v []float32) bool {
		return slices.ContainsFunc(v, func(x float32) bool { return x != 0 })
	})
	q := inLight(now, isVeiled)
	q.Blind, q.Doubtful = make([]bool, len(now.L)), make([]bool, len(now.L))
	for range otherLights {
		q.Lights = append(q.Lights, inLight(now, isVeiled))
	}
	for i := range b.Each(now.W) {
		f, others, doubtful := c.at(now, then, i)
		f.apply(q, now, i)
		q.Doubtful[i] = doubtful
		for k, o := range q.Lights {
			if doubtful {
				others[k].apply(o, now, i)
			} else {
				o.L[i], o.A[i], o.B[i] = q.L[i], q.A[i], q.B[i]
				if isVeiled {
					o.Noise[i] = q.Noise[i]
				}
			}
		}
		k := min(c.rows-1, i/now.W/CellSide)*c.cols + min(c.cols-1, i%now.W/CellSide)
		q.Blind[i] = c.isBlind(k) && !f.isAbove(now, i) || c.drowned[k] && now.L[i]-then.L[i] > Changed
	}
	return q
}

// inLight has room for a picture in another light. Only under a reflection its noise is another
// than that of the picture, and its weights are not all 1.
func inLight(now *pixels.Image, isVeiled bool) *pixels.Image {
	q := pixels.Blank(now)
	if q.Noise = now.Noise; !isVeiled {
		return q
	}
	q.Noise, q.Weight = slices.Clone(now.Noise), make([]float32, len(now.L))
	for i := range q.Weight {
		q.Weight[i] = 1
	}
	return q
}

// isBlind says whether nothing is told in a cell.
func (c *Change) isBlind(k int) bool {
	if c.full[k] > 0.5 && c.change[0][k] > Changed {
		return true
	}
	return c.plus[0][k] != 0 && c.likeness[k] > alike && c.contrast[k] < washedOut
}

// otherLights is how many lights a pixel may be in besides the likeliest.
const otherLights = 3

// at is the light at a pixel: between cells linear, but where a shadow ends, that of the
// neighbouring cell it fits. Where it ends suddenly, and under a reflection, that is
// doubtful, and the pixel may be in others.
func (c *Change) at(now, then *pixels.Image, i int) (f light, others [otherLights]light, doubtful bool) {
	u, v := (float32(i%now.W)+0.5)/CellSide-0.5, (float32(i/now.W)+0.5)/CellSide-0.5
	u, v = max(0, min(float32(c.cols-1), u)), max(0, min(float32(c.rows-1), v))
	x0, y0 := min(int(u), max(0, c.cols-2)), min(int(v), max(0, c.rows-2))
	low, high := c.extremes(x0, y0)
	gap := c.level[high] - c.level[low]
	if gap <= inlier {
		fx, fy, k := u-float32(x0), v-float32(y0), y0*c.cols+x0
		for j := range f.change {
			f.change[j] = mix(c.times[j], k, c.cols, fx, fy)
			f.added[j] = mix(c.plus[j], k, c.cols, fx, fy)
		}
		others[0] = f
		return f.fitted(now, then, i, 1-amountSpread), others, f.isVeil()
	}
	change := now.Softened()[i] - then.Softened()[i]
	others[0], others[1] = c.of(low), c.of(high)
	others[2] = between(&others[0], &others[1], 0.5)
	switch {
	case others[1].isVeil():
		others[2] = light{}
		return others[1].fitted(now, then, i, 0), others, true
	case gap > cliff:
		return between(&others[0], &others[1], max(0, min(1, (change-c.level[low])/gap))), others, true
	}
	f = c.of(c.nearest(x0, y0, change))
	return f.fitted(now, then, i, 1-amountSpread), others, f.isVeil()
}

// about is the cells about the pixels between one and the next.
func (c *Change) about(x0, y0 int) pixels.Box {
	return pixels.Box{X0: max(0, x0-1), Y0: max(0, y0-1), X1: min(c.cols, x0+3), Y1: min(c.rows, y0+3)}
}

// extremes are the cells about a pixel with the least light and the most, found once.
func (c *Change) extremes(x0, y0 int) (low, high int) {
	if c.found == nil {
		c.found = make([][2]int32, len(c.level))
	}
	found := &c.found[y0*c.cols+x0]
	if found[1] == 0 {
		b := c.about(x0, y0)
		low = b.Y0*c.cols + b.X0
		high = low
		for k := range b.Each(c.cols) {
			if c.level[k] < c.level[low] {
				low = k
			}
			if c.level[k] > c.level[high] {
				high = k
			}
		}
		*found = [2]int32{int32(low), int32(high) + 1}
	}
	return int(found[0]), int(found[1] - 1)
}

// nearest is the cell about a pixel whose light comes nearest to its change.
func (c *Change) nearest(x0, y0 int, change float32) (best int) {
	miss := float32(math.Inf(1))
	for k := range c.about(x0, y0).Each(c.cols) {
		if m := abs(change - c.level[k]); m < miss {
			best, miss = k, m
		}
	}
	return best
}

// of is the light of a cell.
func (c *Change) of(k int) (f light) {
	for j := range f.change {
		f.change[j], f.added[j] = c.times[j][k], c.plus[j][k]
	}
	return f
}

// between is a share of the way from one light to another.
func between(a, b *light, share float32) (f light) {
	for j := range f.change {
		f.change[j] = (1-share)*a.change[j] + share*b.change[j]
		f.added[j] = (1-share)*a.added[j] + share*b.added[j]
	}
	return f
}

// fitted is so much of a reflection, but no less than some, as brings a pixel nearest to
// what was there: panes are brighter in some places, and their edges are soft. Another
// light is as it is.
func (f light) fitted(now, then *pixels.Image, i int, least float32) light {
	if !f.isVeil() {
		return f
	}
	by := (sum(linear(now, i)) - sum(linear(then, i))) / sum(f.added)
	by = max(least, min(1+amountSpread, by))
	for j := range f.added {
		f.added[j] *= by
	}
	return f
}

// isVeil says whether it is light on top.
func (f *light) isVeil() bool { return f.added != [3]float32{} }

// isAbove says whether a pixel is darker than the light that would lie on it: it stands
// above that, or beside it.
func (f *light) isAbove(now *pixels.Image, i int) bool {
	if !f.isVeil() {
		return false
	}
	return sum(linear(now, i)) < darker*sum(f.added)
}

// apply gives a pixel of q, which shows now, without the light.
func (f *light) apply(q, now *pixels.Image, i int) {
	q.L[i], q.A[i], q.B[i] = now.L[i], now.A[i], now.B[i]
	if f.isAbove(now, i) {
		return
	}
	if f.isVeil() {
		unveil(q, now, i, f.added)
	}
	q.L[i], q.A[i], q.B[i] = q.L[i]-f.change[0], q.A[i]-f.change[1], q.B[i]-f.change[2]
}

func mix(v []float32, k, cols int, fx, fy float32) float32 {
	return (1-fy)*((1-fx)*v[k]+fx*v[k+1]) + fy*((1-fx)*v[k+cols]+fx*v[k+cols+1])
}

func abs(v float32) float32 { return float32(math.Abs(float64(v))) }

// unveil takes added light off a pixel of q, which shows now. Its noise grows, for small
// changes of the picture are large ones of what lies under the light; so do densities.
func unveil(q, now *pixels.Image, i int, added [3]float32) {
	was, is := linear(now, i), [3]float32{}
	var l [3]float32
	for j := range l {
		is[j] = max(leastLight, was[j]-added[j])
		l[j] = logarithm(is[j])
	}
	q.L[i], q.A[i], q.B[i] = (l[0]+l[1]+l[2])/3, l[0]-l[1], l[2]-l[1]
	grown := sum(was) / sum(is)
	noise, unsure := now.Noise[i]*grown, veilSigma*sum(added)/sum(is)
	q.Noise[i] = root(noise*noise + unsure*unsure)
	q.Weight[i] = max(1, min(mostWeight, grown*grown*grown))
}
