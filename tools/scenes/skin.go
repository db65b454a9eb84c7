// SPDX-License-Identifier: Apache-2.0

package main

import "math"

// bone is a tapered rod with round ends, mm.
type bone struct {
	a, b   vec
	ra, rb float64
}

// distance is how far p is from the bone's surface, negative inside.
func (b bone) distance(p vec) float64 {
	var ab, ap vec
	for i := range 3 {
		ab[i], ap[i] = b.b[i]-b.a[i], p[i]-b.a[i]
	}
	t := 0.0
	if n := ab.dot(ab); n > 0 {
		t = math.Max(0, math.Min(1, ab.dot(ap)/n))
	}
	for i := range 3 {
		ap[i] -= t * ab[i]
	}
	return math.Sqrt(ap.dot(ap)) - (b.ra + (b.rb-b.ra)*t)
}

// dot is the scalar product.
func (v vec) dot(w vec) float64 { return v[0]*w[0] + v[1]*w[1] + v[2]*w[2] }

// flesh is a hand: limbs that grow together with the palm, but not with each
// other.
type flesh struct {
	palm  []bone
	limbs [][]bone
}

// How softly bones melt into each other, mm.
const (
	palmSoft  = 9
	jointSoft = 3
	webSoft   = 7
)

// distance is how far p is from the skin, negative inside.
func (f flesh) distance(p vec) float64 {
	palm := melt(f.palm, p, palmSoft)
	d := palm
	for _, l := range f.limbs {
		d = math.Min(d, soften(palm, melt(l, p, jointSoft), webSoft))
	}
	return d
}

// melt joins bones softly.
func melt(bones []bone, p vec, soft float64) float64 {
	d := math.Inf(1)
	for _, b := range bones {
		d = soften(d, b.distance(p), soft)
	}
	return d
}

// soften is the polynomial smooth minimum of two distances (Quilez, quadratic).
func soften(a, b, k float64) float64 {
	h := k - math.Abs(a-b)
	if h < 0 {
		return math.Min(a, b)
	}
	return math.Min(a, b) - h*h/(4*k)
}

// slope is the direction in which the distance grows.
func (f flesh) slope(p vec) vec {
	const e = 0.5
	var g vec
	for i := range 3 {
		q, r := p, p
		q[i] += e
		r[i] -= e
		g[i] = f.distance(q) - f.distance(r)
	}
	return g
}

// box is what holds the flesh.
func (f flesh) box() (low, high vec) {
	for i := range 3 {
		low[i], high[i] = math.Inf(1), math.Inf(-1)
	}
	for _, l := range append([][]bone{f.palm}, f.limbs...) {
		for _, b := range l {
			for i := range 3 {
				low[i] = min(low[i], b.a[i]-b.ra-5, b.b[i]-b.rb-5)
				high[i] = max(high[i], b.a[i]+b.ra+5, b.b[i]+b.rb+5)
			}
		}
	}
	return low, high
}
