// SPDX-License-Identifier: Apache-2.0

package lens

import (
	"math"
)

// canvas is a small picture with depth, finer than the camera's.
type canvas struct {
	w, h   int     // in samples
	x0, y0 float64 // the camera's pixel that its first pixel is
	paint  func(height float64, normal vec, tone float64) colour
	rgb    []float32
	depth  []float32 // 0: nothing there; else 1/distance, larger is nearer
}

func newCanvas(w, h int) *canvas {
	n := w * h * fine * fine
	return &canvas{w: w * fine, h: h * fine, rgb: make([]float32, 3*n), depth: make([]float32, n)}
}

// triangle fills one facet, seen from whichever side: pieces' hollow tops show
// their inside.
func (c *canvas) triangle(p, q, r *vertex) {
	px, py := c.sample(p)
	qx, qy := c.sample(q)
	rx, ry := c.sample(r)
	area := (qx-px)*(ry-py) - (qy-py)*(rx-px)
	if math.Abs(area) < 1e-9 {
		return
	}
	lx, hx := max(0, int(math.Ceil(min(px, qx, rx)))), min(c.w-1, int(math.Floor(max(px, qx, rx))))
	ly, hy := max(0, int(math.Ceil(min(py, qy, ry)))), min(c.h-1, int(math.Floor(max(py, qy, ry))))
	for y := ly; y <= hy; y++ {
		fy := float64(y)
		for x := lx; x <= hx; x++ {
			fx := float64(x)
			a := ((qx-fx)*(ry-fy) - (qy-fy)*(rx-fx)) / area
			b := ((rx-fx)*(py-fy) - (ry-fy)*(px-fx)) / area
			if g := 1 - a - b; a >= 0 && b >= 0 && g >= 0 {
				c.touch(y*c.w+x, [3]*vertex{p, q, r}, vec{X: a, Y: b, Z: g})
			}
		}
	}
}

// sample is where a corner lies among the samples.
func (c *canvas) sample(v *vertex) (x, y float64) {
	return (v.u-c.x0+0.5)*fine - 0.5, (v.v-c.y0+0.5)*fine - 0.5
}

// touch paints one sample of a facet unless something nearer is there; w are
// the shares of its corners.
func (c *canvas) touch(i int, t [3]*vertex, w vec) {
	near := float32(w.X/t[0].depth + w.Y/t[1].depth + w.Z/t[2].depth)
	if near <= c.depth[i] {
		return
	}
	c.depth[i] = near
	high := w.X*t[0].at.Z + w.Y*t[1].at.Z + w.Z*t[2].at.Z
	n := times(w.X, t[0].normal).Add(times(w.Y, t[1].normal)).Add(times(w.Z, t[2].normal))
	col := c.paint(high, unitVec(n), w.X*t[0].tone+w.Y*t[1].tone+w.Z*t[2].tone)
	c.rgb[3*i], c.rgb[3*i+1], c.rgb[3*i+2] = float32(col[0]), float32(col[1]), float32(col[2])
}

// resolve averages the samples in and around each pixel into the sprite.
func (c *canvas) resolve(sp *sprite, p *plate) {
	sp.rgb, sp.cover = make([]uint16, 3*sp.w*sp.h), make([]uint8, sp.w*sp.h)
	for y := range sp.h {
		for x := range sp.w {
			sum, hit := c.gather(x, y)
			if hit == 0 {
				continue
			}
			i := y*sp.w + x
			sp.cover[i] = uint8(255*min(hit, 1) + 0.5)
			dim := p.dim[(y+sp.y0)*p.w+x+sp.x0]
			for k := range 3 {
				sp.rgb[3*i+k] = stored(float64(sum[k] * dim))
			}
		}
	}
}

// gather is the weighted light and cover of a pixel.
func (c *canvas) gather(x, y int) (sum [3]float32, hit float32) {
	for j, wy := range sampleBlur {
		v := y*fine - 1 + j
		if v < 0 || v >= c.h {
			continue
		}
		for i, wx := range sampleBlur {
			u := x*fine - 1 + i
			if u < 0 || u >= c.w || c.depth[v*c.w+u] == 0 {
				continue
			}
			w := wx * wy
			s := c.rgb[3*(v*c.w+u):]
			hit += w
			sum[0], sum[1], sum[2] = sum[0]+w*s[0], sum[1]+w*s[1], sum[2]+w*s[2]
		}
	}
	return sum, hit
}

// blend lays a sprite over a picture of the plate's size. left is how much of
// the light each pixel gets, of 256; nil: all.
func (sp *sprite) blend(rgb []uint16, width int, left []uint16) {
	for y := range sp.h {
		row := (y+sp.y0)*width + sp.x0
		for x := range sp.w {
			i := y*sp.w + x
			cover := uint32(sp.cover[i])
			if cover == 0 {
				continue
			}
			d := rgb[3*(row+x) : 3*(row+x)+3]
			for k := range 3 {
				d[k] = uint16(min(65535, uint32(sp.rgb[3*i+k])+uint32(d[k])*(255-cover)/255))
			}
		}
	}
}
