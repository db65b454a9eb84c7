package main

import (
	"image"
	"image/color"
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
		target: d.in(0.6, 0.92), follow: one(d, 0, 0.5, 0.9), blur: d.in(0.3, 0.8),
		sharpen: one(d, 0, 0.3, 0.6, 0.9), contrast: d.in(0, 0.5), quality: 75 + d.IntN(18)}
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
	cx, cy := float64(p.w)/2, float64(p.h)/2
	for y := range p.h {
		for x := range p.w {
			r2 := ((float64(x)-cx)*(float64(x)-cx) + (float64(y)-cy)*(float64(y)-cy)) / (cx*cx + cy*cy)
			k := gain * (1 - s.vignette*r2)
			for c := range 3 {
				v := &p.pix[(y*p.w+x)*3+c]
				e := float64(*v) * k * s.white[c] * white[c] * s.well
				e = math.Min(e, 1.3*s.well)
				e += d.NormFloat64() * math.Sqrt(math.Max(e, 0)+s.read*s.read)
				*v = float32(s.tone(e / s.well))
			}
		}
	}
	return toRGBA(sharpen(p, s.sharpen))
}

// tone is the sRGB curve (IEC 61966-2-1) with a mild S on top.
func (s sensor) tone(v float64) float64 {
	v = math.Max(0, math.Min(1, v))
	if v <= 0.0031308 {
		v *= 12.92
	} else {
		v = 1.055*math.Pow(v, 1/2.4) - 0.055
	}
	return v + s.contrast*v*(1-v)*(v-0.45)
}

// warp samples the ideal sheet through the lens, bicubically.
func warp(p picture, sh sheet, l lens) picture {
	out := picture{w: l.w, h: l.h, pix: make([]float32, l.w*l.h*3)}
	for v := range l.h {
		for u := range l.w {
			x, y := l.undistort(float64(u), float64(v))
			a, b := sh.at(x, y)
			p.cubic(a, b, out.pix[(v*l.w+u)*3:])
		}
	}
	return out
}

// cubic writes the colour at (x, y) by Mitchell and Netravali's kernel
// (B = C = 1/3, SIGGRAPH 1988).
func (p picture) cubic(x, y float64, to []float32) {
	ix, iy := int(math.Floor(x)), int(math.Floor(y))
	var sum [3]float32
	var wx [4]float32
	for i := range 4 {
		wx[i] = mitchell(x - float64(ix-1+i))
	}
	for j := range 4 {
		wy := mitchell(y - float64(iy-1+j))
		row := max(0, min(p.h-1, iy-1+j)) * p.w
		for i := range 4 {
			k := (row + max(0, min(p.w-1, ix-1+i))) * 3
			w := wy * wx[i]
			sum[0] += w * p.pix[k]
			sum[1] += w * p.pix[k+1]
			sum[2] += w * p.pix[k+2]
		}
	}
	copy(to, sum[:])
}

// mitchell is the kernel's weight at distance t.
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

// blur is a separable Gaussian of five taps.
func blur(p picture, sigma float64) picture {
	e1, e2 := math.Exp(-0.5/sigma/sigma), math.Exp(-2/sigma/sigma)
	n := 1 + 2*e1 + 2*e2
	k := [3]float32{float32(1 / n), float32(e1 / n), float32(e2 / n)}
	return p.convolve(k, 1, 0).convolve(k, 0, 1)
}

// convolve runs a symmetric kernel along (dx, dy).
func (p picture) convolve(k [3]float32, dx, dy int) picture {
	out := picture{w: p.w, h: p.h, pix: make([]float32, len(p.pix))}
	at := func(x, y, c int) float32 {
		return p.pix[(max(0, min(p.h-1, y))*p.w+max(0, min(p.w-1, x)))*3+c]
	}
	for y := range p.h {
		for x := range p.w {
			for c := range 3 {
				v := k[0] * at(x, y, c)
				for i := 1; i <= 2; i++ {
					v += k[i] * (at(x+i*dx, y+i*dy, c) + at(x-i*dx, y-i*dy, c))
				}
				out.pix[(y*p.w+x)*3+c] = v
			}
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
	for y := range p.h {
		for x := range p.w {
			var c [3]uint8
			for i := range c {
				c[i] = uint8(math.Max(0, math.Min(255, math.Round(float64(p.pix[(y*p.w+x)*3+i])*255))))
			}
			out.SetRGBA(x, y, color.RGBA{c[0], c[1], c[2], 255})
		}
	}
	return out
}
