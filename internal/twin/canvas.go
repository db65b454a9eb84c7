package twin

import (
	"math"
)

// fine is how many samples a pixel has each way.
const fine = 2

// canvas is a small picture with depth, finer than the camera's.
type canvas struct {
	w, h  int // in samples
	rgb   []float32
	depth []float32 // 0: nothing there; else 1/distance, larger is nearer
}

func newCanvas(w, h int) *canvas {
	n := w * h * fine * fine
	return &canvas{w: w * fine, h: h * fine, rgb: make([]float32, 3*n), depth: make([]float32, n)}
}

// triangle fills one facet; x0, y0 is the canvas's first pixel. Facets seen
// from behind are left out, except that men's hollow tops show their inside.
func (c *canvas) triangle(p, q, r *vertex, x0, y0 float64, paint func(at, normal vec, tone float64) colour) {
	px, py := (p.u-x0+0.5)*fine-0.5, (p.v-y0+0.5)*fine-0.5
	qx, qy := (q.u-x0+0.5)*fine-0.5, (q.v-y0+0.5)*fine-0.5
	rx, ry := (r.u-x0+0.5)*fine-0.5, (r.v-y0+0.5)*fine-0.5
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
			g := 1 - a - b
			if a < 0 || b < 0 || g < 0 {
				continue
			}
			near := float32(a/p.depth + b/q.depth + g/r.depth)
			i := y*c.w + x
			if near <= c.depth[i] {
				continue
			}
			c.depth[i] = near
			at := vec{Z: a*p.at.Z + b*q.at.Z + g*r.at.Z}
			n := vec{X: a*p.normal.X + b*q.normal.X + g*r.normal.X, Y: a*p.normal.Y + b*q.normal.Y + g*r.normal.Y,
				Z: a*p.normal.Z + b*q.normal.Z + g*r.normal.Z}
			col := paint(at, unitVec(n), a*p.tone+b*q.tone+g*r.tone)
			c.rgb[3*i], c.rgb[3*i+1], c.rgb[3*i+2] = float32(col[0]), float32(col[1]), float32(col[2])
		}
	}
}

// The lens's blur: weights of the four samples across a pixel and half of each
// neighbour. The same for the plate, in whole pixels.
var (
	sampleBlur = [4]float32{0.14, 0.36, 0.36, 0.14}
	pixelBlur  = [3]uint32{38, 180, 38} // of 256
)

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

// blend lays a sprite over a picture of the plate's size.
func (sp *sprite) blend(rgb []uint16, width int) {
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
