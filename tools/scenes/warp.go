// SPDX-License-Identifier: Apache-2.0

package main

import "math"

// tap says where a pixel of the distorted picture comes from: the sheet's
// cell and the weights of its four columns and rows.
type tap struct {
	x, y   int32
	wx, wy [4]float32
}

// taps is the lens drawn out for every pixel: the same for a whole session.
func taps(sh sheet, l lens) []tap {
	out := make([]tap, l.w*l.h)
	for v := range l.h {
		for u := range l.w {
			x, y := l.undistort(float64(u), float64(v))
			a, b := sh.at(x, y)
			t := &out[v*l.w+u]
			t.x, t.y = int32(math.Floor(a)), int32(math.Floor(b))
			for i := range 4 {
				t.wx[i] = mitchell(a - float64(int(t.x)-1+i))
				t.wy[i] = mitchell(b - float64(int(t.y)-1+i))
			}
		}
	}
	return out
}

// warp samples the ideal sheet through the lens, bicubically.
func warp(p picture, l lens, ts []tap) picture {
	out := picture{w: l.w, h: l.h, pix: make([]float32, l.w*l.h*3)}
	for i := range ts {
		p.cubic(&ts[i], out.pix[3*i:3*i+3])
	}
	return out
}

// cubic writes the colour at a tap; the sheet's rim keeps it inside.
func (p picture) cubic(t *tap, to []float32) {
	var a, b, c float32
	for j := range 4 {
		k := ((int(t.y)-1+j)*p.w + int(t.x) - 1) * 3
		row := p.pix[k : k+12]
		wy := t.wy[j]
		for i := range 4 {
			w := wy * t.wx[i]
			a += w * row[3*i]
			b += w * row[3*i+1]
			c += w * row[3*i+2]
		}
	}
	to[0], to[1], to[2] = a, b, c
}

// mitchell is the kernel of Mitchell and Netravali with B = C = 1/3
// (SIGGRAPH 1988) at distance t.
func mitchell(t float64) float32 {
	t = math.Abs(t)
	switch {
	case t < 1:
		return float32((7*t*t*t - 12*t*t + 16.0/3) / 6)
	case t < 2:
		return float32((-7.0/3*t*t*t + 12*t*t - 20*t + 32.0/3) / 6)
	}
	return 0
}
