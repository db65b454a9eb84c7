// SPDX-License-Identifier: Apache-2.0

package main

import (
	"image"
	"math"
	"sort"
)

// sensor is what the camera does to the light.
type sensor struct {
	vignette float64    // loss in the corner, share
	well     float64    // electrons at white: shot noise
	read     float64    // electrons
	white    [3]float64 // white-balance error
	target   float64    // brightness that the exposure aims at for the 95th percentile
	follow   float64    // how far the exposure follows the scene, 0 fixed to 1
	blur     float64    // pixels, sigma of the lens
	sharpen  float64    // the camera's own sharpening
	contrast float64    // S-curve
	quality  int        // JPEG
}

// drawSensor draws a cheap camera.
func drawSensor(d dice) sensor {
	return sensor{vignette: d.in(0, 0.35), well: d.in(2500, 12000), read: d.in(4, 18),
		white:  [3]float64{1 + d.bell(0.05, 0.1), 1, 1 + d.bell(0.06, 0.12)},
		target: d.in(0.45, 0.82), follow: one(d, 0, 0.5, 0.9), blur: d.in(0.3, 0.8),
		sharpen: one(d, 0, 0.3, 0.6, 0.9), contrast: d.in(0, 0.5), quality: 75 + d.IntN(18)}
}

// spoil makes a camera a poor one: grainy, soft, over-sharpened, and its
// pictures packed hard.
func (s *sensor) spoil(d dice) {
	s.well, s.read = d.in(500, 1500), d.in(10, 25)
	s.blur, s.sharpen = d.in(0.6, 1), one(d, 0.3, 0.6, 0.9)
	s.follow, s.quality = d.in(0.5, 1), 45
}

// bright is the 95th percentile of green light in the picture's middle.
func bright(p picture) float64 {
	var v []float64
	for y := p.h / 6; y < p.h*5/6; y += 5 {
		for x := p.w / 5; x < p.w*4/5; x += 5 {
			v = append(v, float64(p.pix[(y*p.w+x)*3+1]))
		}
	}
	sort.Float64s(v)
	return math.Max(1e-3, v[len(v)*95/100])
}

// exposure is the gain for a picture; first is the session's first picture.
func (s sensor) exposure(first, now picture) float64 {
	a, b := bright(first), bright(now)
	return s.target / (a * math.Pow(b/a, s.follow))
}

// take turns distorted linear light into a picture as the camera stores it.
func (s sensor) take(d dice, p picture, gain float64, white [3]float64) *image.RGBA {
	p = blur(p, s.blur)
	curve := s.curve()
	cx, cy := float64(p.w)/2, float64(p.h)/2
	for y := range p.h {
		for x := range p.w {
			r2 := ((float64(x)-cx)*(float64(x)-cx) + (float64(y)-cy)*(float64(y)-cy)) / (cx*cx + cy*cy)
			k := gain * (1 - s.vignette*r2)
			for c := range 3 {
				v := &p.pix[(y*p.w+x)*3+c]
				e := math.Min(float64(*v)*k*s.white[c]*white[c], 1.3) * s.well
				e += d.NormFloat64() * math.Sqrt(math.Max(e, 0)+s.read*s.read)
				e = math.Max(0, math.Min(1, e/s.well))
				*v = curve[int(e*(levels-1)+0.5)]
			}
		}
	}
	return toRGBA(sharpen(p, s.sharpen))
}

// levels is the fineness of the tone curve: at its steepest, 12.92 near
// black, a step is a fifth of one eight-bit level.
const levels = 16384

// curve tabulates the tone.
func (s sensor) curve() []float32 {
	c := make([]float32, levels)
	for i := range c {
		c[i] = float32(s.tone(float64(i) / (levels - 1)))
	}
	return c
}

// tone is the sRGB curve (IEC 61966-2-1) with a mild S on top, for 0-1.
func (s sensor) tone(v float64) float64 {
	if v <= 0.0031308 {
		v *= 12.92
	} else {
		v = 1.055*math.Pow(v, 1/2.4) - 0.055
	}
	return v + s.contrast*v*(1-v)*(v-0.45)
}

// blur is a separable Gaussian of five taps.
func blur(p picture, sigma float64) picture {
	e1, e2 := math.Exp(-0.5/sigma/sigma), math.Exp(-2/sigma/sigma)
	n := 1 + 2*e1 + 2*e2
	k := [3]float32{float32(1 / n), float32(e1 / n), float32(e2 / n)}
	return p.across(k).down(k)
}

// across runs a symmetric kernel along the rows.
func (p picture) across(k [3]float32) picture {
	out := picture{w: p.w, h: p.h, pix: make([]float32, len(p.pix))}
	n := 3 * p.w
	for y := range p.h {
		in, to := p.pix[y*n:(y+1)*n], out.pix[y*n:(y+1)*n]
		for i := 6; i < n-6; i++ {
			to[i] = k[0]*in[i] + k[1]*(in[i-3]+in[i+3]) + k[2]*(in[i-6]+in[i+6])
		}
		copy(to[:6], in[:6])
		copy(to[n-6:], in[n-6:])
	}
	return out
}

// down runs a symmetric kernel along the columns.
func (p picture) down(k [3]float32) picture {
	out := picture{w: p.w, h: p.h, pix: make([]float32, len(p.pix))}
	n := 3 * p.w
	row := func(y int) []float32 { y = max(0, min(p.h-1, y)); return p.pix[y*n : (y+1)*n] }
	for y := range p.h {
		a, b, c, d, e := row(y-2), row(y-1), row(y), row(y+1), row(y+2)
		to := out.pix[y*n : (y+1)*n]
		for i := range to {
			to[i] = k[0]*c[i] + k[1]*(b[i]+d[i]) + k[2]*(a[i]+e[i])
		}
	}
	return out
}

// sharpen adds back what a small blur takes away.
func sharpen(p picture, by float64) picture {
	if by == 0 {
		return p
	}
	soft := blur(p, 0.9)
	for i := range p.pix {
		p.pix[i] += float32(by) * (p.pix[i] - soft.pix[i])
	}
	return p
}

// toRGBA rounds to eight bits.
func toRGBA(p picture) *image.RGBA {
	out := image.NewRGBA(image.Rect(0, 0, p.w, p.h))
	for i := range p.w * p.h {
		for c := range 3 {
			out.Pix[4*i+c] = uint8(max(0, min(255, p.pix[3*i+c]*255+0.5)))
		}
		out.Pix[4*i+3] = 255
	}
	return out
}
