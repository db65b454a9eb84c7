// SPDX-License-Identifier: Apache-2.0

package lens

import "math"

// rod is a limb seen from one eye: ray against a cylinder with round ends.
type rod struct {
	l      limb
	oa, ba vec
	baba   float64
	baoa   float64
	oaoa   float64
}

func newRod(eye vec, l limb) rod {
	ba, oa := l.b.Sub(l.a), eye.Sub(l.a)
	return rod{l: l, oa: oa, ba: ba, baba: dot(ba, ba), baoa: dot(ba, oa), oaoa: dot(oa, oa)}
}

// hit is how far along the direction d (of length 1) the rod begins.
// Quadratic equations of the cylinder and of the two spheres; exact.
func (r *rod) hit(d vec) (float64, bool) {
	bard, rdoa := dot(r.ba, d), dot(d, r.oa)
	a := r.baba - bard*bard
	b := r.baba*rdoa - r.baoa*bard
	c := r.baba*r.oaoa - r.baoa*r.baoa - r.l.r*r.l.r*r.baba
	h := b*b - a*c
	if h < 0 {
		return 0, false
	}
	t := (-b - math.Sqrt(h)) / a
	y := r.baoa + t*bard
	if y > 0 && y < r.baba {
		return t, t > 0
	}
	oc := r.oa
	if y > 0 {
		oc = r.oa.Sub(r.ba)
	}
	b = dot(d, oc)
	h = b*b - (dot(oc, oc) - r.l.r*r.l.r)
	if h <= 0 {
		return 0, false
	}
	t = -b - math.Sqrt(h)
	return t, t > 0
}

// normal points out of the rod at a place on it.
func (r *rod) normal(at vec) vec {
	p := at.Sub(r.l.a)
	t := math.Max(0, math.Min(1, dot(p, r.ba)/math.Max(r.baba, 1e-12)))
	return unitVec(p.Sub(times(t, r.ba)))
}

func newCover(p *plate) *cover {
	n := p.w * p.h
	c := &cover{rgb: make([]float32, 3*n), alpha: make([]float32, n), near: make([]float32, n), w: p.w}
	c.x0, c.y0 = p.w, p.h
	return c
}

// clear empties what was drawn last.
func (c *cover) clear() {
	for y := c.y0; y < c.y1; y++ {
		a, b := y*c.w+c.x0, y*c.w+c.x1
		clear(c.rgb[3*a : 3*b])
		clear(c.alpha[a:b])
		clear(c.near[a:b])
	}
	c.x0, c.y0, c.x1, c.y1 = c.w, len(c.alpha)/c.w, 0, 0
}

// soften blurs the arm's outline over a pixel each way along the rows and the
// columns: hands move while the shutter is open.
func (c *cover) soften() {
	for y := c.y0 + 1; y < c.y1-1; y++ {
		for x := c.x0 + 1; x < c.x1-1; x++ {
			i := y*c.w + x
			near := c.near[i-1] + c.near[i+1] + c.near[i-c.w] + c.near[i+c.w]
			edge := c.near[i-1] == 0 || c.near[i+1] == 0 || c.near[i-c.w] == 0 || c.near[i+c.w] == 0
			if !edge || near == 0 {
				continue
			}
			hits, sum := float32(0), [3]float32{}
			for _, j := range [5]int{i, i - 1, i + 1, i - c.w, i + c.w} {
				if c.near[j] > 0 {
					hits++
					for k := range 3 {
						sum[k] += c.rgb[3*j+k]
					}
				}
			}
			c.alpha[i] = hits / 5
			if c.near[i] == 0 { // just outside: the colour of its neighbours
				for k := range 3 {
					c.rgb[3*i+k] = sum[k] / hits
				}
			}
		}
	}
}

// blend lays the arm over the picture.
func (c *cover) blend(rgb []uint16, p *plate) {
	for y := c.y0; y < c.y1; y++ {
		for x := c.x0; x < c.x1; x++ {
			i := y*c.w + x
			a := c.alpha[i]
			if a == 0 {
				continue
			}
			for k := range 3 {
				v := a*c.rgb[3*i+k]*p.dim[i]*full + (1-a)*float32(rgb[3*i+k])
				rgb[3*i+k] = uint16(min(65535, v))
			}
		}
	}
}
