// SPDX-License-Identifier: Apache-2.0

package main

import "math"

// depths tells how far away what each pixel of the sheet shows is: times
// studio.ray gives the place from the eye, mm. Trimmings of pieces and things on
// the table are left out: only shadows with soft edges, the board's face and
// the outline of a hand in motion are asked for by it.
func (st *studio) depths(sh shot) []float32 {
	z := zBuffer{st: st, v: sh.view, z: make([]float32, st.sheet.w*st.sheet.h)}
	eye := sh.view.eye()
	half := 4*st.s.square + st.s.border
	for i := range z.z {
		d := st.ray(sh.view, i%st.sheet.w, i/st.sheet.w)
		t := -eye.Z / d[2]
		if math.Abs(eye.X+t*d[0]) > half || math.Abs(eye.Y+t*d[1]) > half {
			t = -(eye.Z + st.s.thick) / d[2]
		}
		z.z[i] = float32(t)
	}
	for _, m := range sh.pieces {
		pts, faces := loftPoints(st.s.pieces.of[m.piece.Kind()].outline(), st.s.pieces.of[m.piece.Kind()])
		for i := range pts {
			pts[i] = m.place(pts[i], st.s.pieces.of[m.piece.Kind()])
		}
		z.draw(pts, faces)
	}
	for _, e := range sh.extra {
		for _, b := range e.skeleton() {
			z.draw(b.skin())
		}
	}
	return z.z
}

// ray is the direction of a sheet's pixel in the board frame, as long as it
// must be to go 1 away from the camera's plane.
func (st *studio) ray(v view, x, y int) vec {
	a, b := (float64(x)-float64(st.sheet.w-1)/2)/st.sheet.f, (float64(y)-float64(st.sheet.h-1)/2)/st.sheet.f
	m := v.pose.R
	return vec{m[0][0]*a + m[1][0]*b + m[2][0], m[0][1]*a + m[1][1]*b + m[2][1], m[0][2]*a + m[1][2]*b + m[2][2]}
}

// place puts a point of a standing piece's shape where the piece is, as
// piece.object does.
func (m piece) place(p vec, sh shape) vec {
	if m.toppled {
		p = vec{p[0], p[2] - sh.height*0.4, sh.base/2 - p[1]}
	}
	s, c := math.Sincos(m.yaw * math.Pi / 180)
	return vec{m.x + p[0]*c - p[1]*s, m.y + p[0]*s + p[1]*c, m.z + p[2]}
}

// skin is a bone's skin: a tapered rod of eight sides, its ends drawn out.
func (b bone) skin() ([]vec, [][3]int) {
	const sides = 8
	axis := b.b.minus(b.a)
	n := math.Sqrt(axis.dot(axis))
	if n < 1e-6 {
		return nil, nil
	}
	axis = axis.unit()
	u := vec{-axis[1], axis[0], 0}
	if u.dot(u) < 1e-6 {
		u = vec{1, 0, 0}
	}
	u = u.unit()
	v := vec{axis[1]*u[2] - axis[2]*u[1], axis[2]*u[0] - axis[0]*u[2], axis[0]*u[1] - axis[1]*u[0]}
	var pts []vec
	for _, e := range [2]float64{-0.5 * b.ra, n + 0.5*b.rb} {
		for i := range sides {
			s, c := math.Sincos(2 * math.Pi * float64(i) / sides)
			r := b.ra + (b.rb-b.ra)*clamp(e/n)
			pts = append(pts, b.a.along(axis, e).along(u, r*c).along(v, r*s))
		}
	}
	var faces [][3]int
	for i := range sides {
		j := (i + 1) % sides
		faces = append(faces, [3]int{i, j, i + sides}, [3]int{j, j + sides, i + sides}, [3]int{0, i, j}, [3]int{sides, i + sides, j + sides})
	}
	return pts, faces
}

// zBuffer keeps the nearest depth of each pixel, mm.
type zBuffer struct {
	st *studio
	v  view
	z  []float32
}

// draw takes in triangles.
func (z *zBuffer) draw(pts []vec, faces [][3]int) {
	seen := make([]vec, len(pts)) // sheet's pixels, and one over the depth
	for i, p := range pts {
		c := z.v.pose.Apply(framePoint(p))
		x, y := z.st.sheet.at(c.X/c.Z, c.Y/c.Z)
		seen[i] = vec{x, y, 1 / c.Z}
	}
	for _, f := range faces {
		a, b, c := seen[f[0]], seen[f[1]], seen[f[2]]
		if a[2] > 0 && b[2] > 0 && c[2] > 0 {
			z.triangle(a, b, c)
		}
	}
}

// triangle takes in one triangle of pixels and inverse depths.
func (z *zBuffer) triangle(a, b, c vec) {
	area := (b[0]-a[0])*(c[1]-a[1]) - (b[1]-a[1])*(c[0]-a[0])
	if math.Abs(area) < 1e-9 {
		return
	}
	w, h := z.st.sheet.w, z.st.sheet.h
	x0, x1 := max(0, int(min(a[0], b[0], c[0]))), min(w-1, int(max(a[0], b[0], c[0]))+1)
	y0, y1 := max(0, int(min(a[1], b[1], c[1]))), min(h-1, int(max(a[1], b[1], c[1]))+1)
	for y := y0; y <= y1; y++ {
		for x := x0; x <= x1; x++ {
			u, v := float64(x), float64(y)
			p := ((b[0]-u)*(c[1]-v) - (b[1]-v)*(c[0]-u)) / area
			q := ((c[0]-u)*(a[1]-v) - (c[1]-v)*(a[0]-u)) / area
			r := 1 - p - q
			if p < 0 || q < 0 || r < 0 {
				continue
			}
			if d := float32(1 / (p*a[2] + q*b[2] + r*c[2])); d < z.z[y*w+x] {
				z.z[y*w+x] = d
			}
		}
	}
}
