// SPDX-License-Identifier: Apache-2.0

package draw

import "math"

// chord is how far a circle that is cut may differ from its lines, mm.
const chord = 0.01

// Clipped is what of a drawing lies in a rectangle: lines are cut at its edges, a circle that
// crosses one becomes lines, a word counts as a whole by its box, a tone by its corners.
func (d *Drawing) Clipped(r Rect) *Drawing {
	out := &Drawing{W: d.W, H: d.H}
	for _, a := range d.parts {
		b := a.bounds()
		switch {
		case b.Within(r):
			out.parts = append(out.parts, a)
		case a.word.Text != "":
		case a.tone:
			if x, y := clipPolygon(a.x, a.y, r); len(x) > 2 {
				out.Tone(x, y, a.tint)
			}
		case a.radius != 0 && b.meets(r):
			x, y := ring(a.x[0], a.y[0], a.radius)
			out.cutLine(x, y, a.ink, r)
		case a.radius == 0:
			out.cutLine(a.x, a.y, a.ink, r)
		}
	}
	return out
}

// meets says whether two rectangles touch.
func (r Rect) meets(o Rect) bool {
	return r.X0 <= o.X1 && o.X0 <= r.X1 && r.Y0 <= o.Y1 && o.Y0 <= r.Y1
}

// ring is a circle as a closed line that lies within chord of it.
func ring(x, y, radius float64) (xs, ys []float64) {
	n := max(12, int(math.Ceil(math.Pi/math.Acos(1-min(1, chord/radius)))))
	for i := range n + 1 {
		s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		xs, ys = append(xs, x+radius*c), append(ys, y+radius*s)
	}
	return xs, ys
}

// cutLine keeps the stretches of a line that lie in a rectangle.
func (d *Drawing) cutLine(x, y []float64, i Ink, r Rect) {
	var px, py []float64
	flush := func() {
		if len(px) > 1 {
			d.Line(px, py, i)
		}
		px, py = nil, nil
	}
	for k := 1; k < len(x); k++ {
		a, b, ok := inside([2]float64{x[k-1], y[k-1]}, [2]float64{x[k], y[k]}, r)
		if !ok {
			flush()
			continue
		}
		if len(px) > 0 && (px[len(px)-1] != a[0] || py[len(py)-1] != a[1]) {
			flush()
		}
		if len(px) == 0 {
			px, py = append(px, a[0]), append(py, a[1])
		}
		px, py = append(px, b[0]), append(py, b[1])
	}
	flush()
}

// inside is the part of a stretch that lies in a rectangle (Liang and Barsky, "A new concept
// and method for line clipping", ACM TOG 3, 1984).
func inside(a, b [2]float64, r Rect) (p, q [2]float64, ok bool) {
	d := [2]float64{b[0] - a[0], b[1] - a[1]}
	from, to := 0.0, 1.0
	for axis, side := range [2][2]float64{{r.X0, r.X1}, {r.Y0, r.Y1}} {
		lo, hi := side[0]-a[axis], side[1]-a[axis]
		if d[axis] == 0 {
			if lo > 0 || hi < 0 {
				return a, b, false
			}
			continue
		}
		in, out := lo/d[axis], hi/d[axis]
		if in > out {
			in, out = out, in
		}
		from, to = max(from, in), min(to, out)
	}
	if from > to {
		return a, b, false
	}
	p, q = a, b
	if from > 0 {
		p = [2]float64{a[0] + from*d[0], a[1] + from*d[1]}
	}
	if to < 1 {
		q = [2]float64{a[0] + to*d[0], a[1] + to*d[1]}
	}
	return p, q, true
}

// clipPolygon is the part of a convex polygon in a rectangle (Sutherland and Hodgman,
// "Reentrant polygon clipping", CACM 17, 1974).
func clipPolygon(x, y []float64, r Rect) (xs, ys []float64) {
	type half struct {
		axis  int
		limit float64
		sign  float64
	}
	pts := make([][2]float64, len(x))
	for k := range x {
		pts[k] = [2]float64{x[k], y[k]}
	}
	for _, h := range []half{{0, r.X0, 1}, {0, r.X1, -1}, {1, r.Y0, 1}, {1, r.Y1, -1}} {
		var out [][2]float64
		for k, b := range pts {
			a := pts[(k+len(pts)-1)%len(pts)]
			in := func(p [2]float64) float64 { return h.sign * (p[h.axis] - h.limit) }
			if (in(a) < 0) != (in(b) < 0) {
				f := in(a) / (in(a) - in(b))
				out = append(out, [2]float64{a[0] + f*(b[0]-a[0]), a[1] + f*(b[1]-a[1])})
			}
			if in(b) >= 0 {
				out = append(out, b)
			}
		}
		pts = out
	}
	for _, p := range pts {
		xs, ys = append(xs, p[0]), append(ys, p[1])
	}
	return xs, ys
}

// wordGap is what a line that is broken at a word leaves free around its capitals, mm; less than
// from a dimension line to its text. Doubled, dimension lines would be broken at their own.
const wordGap = 0.4

// BreakAtWords breaks straight lines that cross a word, so that it can be read (ISO 129-1 has
// lines broken rather than figures crossed). What is to be cut, and outlines, stay.
func (d *Drawing) BreakAtWords() {
	var boxes []Rect
	for _, w := range d.Words() {
		b := w.Box()
		if w.Upward {
			b.X0, b.X1 = w.X-capital*w.Size-wordGap, w.X+wordGap
		} else {
			b.Y0, b.Y1 = w.Y-capital*w.Size-wordGap, w.Y+wordGap
		}
		boxes = append(boxes, b)
	}
	var out []part
	for _, a := range d.parts {
		if len(a.x) != 2 || a.tone || a.word.Text != "" || a.ink.Cut || a.ink.Width > Fine.Width {
			out = append(out, a)
			continue
		}
		for _, s := range outside([2]float64{a.x[0], a.y[0]}, [2]float64{a.x[1], a.y[1]}, boxes) {
			out = append(out, part{x: []float64{s[0][0], s[1][0]}, y: []float64{s[0][1], s[1][1]}, ink: a.ink})
		}
	}
	d.parts = out
}

// outside are the parts of a stretch that lie in none of the boxes.
func outside(a, b [2]float64, boxes []Rect) [][2][2]float64 {
	left := [][2][2]float64{{a, b}}
	for _, r := range boxes {
		var next [][2][2]float64
		for _, s := range left {
			p, q, ok := inside(s[0], s[1], r)
			if !ok || p == q {
				next = append(next, s)
				continue
			}
			if p != s[0] {
				next = append(next, [2][2]float64{s[0], p})
			}
			if q != s[1] {
				next = append(next, [2][2]float64{q, s[1]})
			}
		}
		left = next
	}
	return left
}
