// SPDX-License-Identifier: Apache-2.0

package pixels

// Level is the brightness of an Image, reduced.
type Level struct {
	w, h  int
	Scale float64 // pixels of the image a pixel
	l     []float32
}

// Levels are the first n reductions of an image's brightness, each by two, and
// each without what is even over a neighbourhood, around a box of the image:
// shadows and lamps come and go.
func Levels(p *Image, n int, around Box) []Level {
	out := []Level{{p.W, p.H, 1, p.L}}
	for len(out) < n {
		out = append(out, out[len(out)-1].half())
	}
	for k := range out {
		out[k] = out[k].flattened(around)
	}
	return out
}

// flattened is the level without what is even, within a box of the image and as far
// around it as cameras are bumped.
func (v Level) flattened(b Box) Level {
	const even, around = 6, 16 // pixels to each side of the level: a quarter of a square; pixels of the image
	k := int(v.Scale)
	b = Box{max(0, (b.X0-around)/k), max(0, (b.Y0-around)/k), min(v.w, (b.X1+around)/k), min(v.h, (b.Y1+around)/k)}
	l := make([]float32, len(v.l))
	Smooth(l, v.l, v.w, b, even)
	for i := range b.Each(v.w) {
		l[i] = v.l[i] - l[i]
	}
	v.l = l
	return v
}

// half is the level reduced once more.
func (v Level) half() Level {
	h := Level{w: v.w / 2, h: v.h / 2, Scale: 2 * v.Scale}
	h.l = make([]float32, h.w*h.h)
	for y := range h.h {
		a, b := v.l[2*y*v.w:], v.l[(2*y+1)*v.w:]
		for x := range h.w {
			h.l[y*h.w+x] = (a[2*x] + a[2*x+1] + b[2*x] + b[2*x+1]) / 4
		}
	}
	return h
}

// At is the brightness at pixel coordinates of the image, between pixels linear.
func (v *Level) At(x, y float64) (float64, bool) {
	x, y = (x+0.5)/v.Scale-0.5, (y+0.5)/v.Scale-0.5
	i, j := int(x), int(y)
	if !(x >= 0 && y >= 0) || i >= v.w-1 || j >= v.h-1 {
		return 0, false
	}
	fx, fy := x-float64(i), y-float64(j)
	k := j*v.w + i
	a, b, c, d := float64(v.l[k]), float64(v.l[k+1]), float64(v.l[k+v.w]), float64(v.l[k+v.w+1])
	top, low := a+fx*(b-a), c+fx*(d-c)
	return top + fy*(low-top), true
}

// Slope is the brightness and its central differences a pixel of the image.
func (v *Level) Slope(x, y float64) (l, dx, dy float64, ok bool) {
	h := v.Scale
	l, ok = v.At(x, y)
	left, a := v.At(x-h, y)
	right, b := v.At(x+h, y)
	above, c := v.At(x, y-h)
	below, d := v.At(x, y+h)
	return l, (right - left) / (2 * h), (below - above) / (2 * h), ok && a && b && c && d
}
