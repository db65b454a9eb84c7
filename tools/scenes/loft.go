// SPDX-License-Identifier: Apache-2.0

package main

import (
	"fmt"
	"math"
	"strings"
)

// around is how many corners a section has: at 26 pixels across, the chord's
// sagitta is below a tenth of a pixel.
const around = 28

type vec [3]float64

// loft skins the rings with a smooth mesh, in millimetres.
func loft(rings []ring, sh shape) string {
	pts, faces := loftPoints(rings, sh)
	return mesh(pts, smooth(pts, faces), faces)
}

// loftPoints are the corners and faces of the rings' skin.
func loftPoints(rings []ring, sh shape) ([]vec, [][3]int) {
	pts := make([]vec, 0, len(rings)*around)
	for _, g := range rings {
		for j := range around {
			a := 2 * math.Pi * float64(j) / around
			r := sh.base / 2
			pts = append(pts, vec{g.rx * r * math.Cos(a), (g.cy + g.ry*math.Sin(a)) * r, g.z * sh.height})
		}
	}
	var faces [][3]int
	for i := range len(rings) - 1 {
		for j := range around {
			a, b := i*around+j, i*around+(j+1)%around
			c, d := a+around, b+around
			faces = append(faces, [3]int{a, b, c}, [3]int{b, d, c})
		}
	}
	return pts, faces
}

// smooth returns the corner normals: the sum of the faces' area vectors.
func smooth(pts []vec, faces [][3]int) []vec {
	n := make([]vec, len(pts))
	for _, f := range faces {
		p, q, r := pts[f[0]], pts[f[1]], pts[f[2]]
		var u, v vec
		for i := range 3 {
			u[i], v[i] = q[i]-p[i], r[i]-p[i]
		}
		x := vec{u[1]*v[2] - u[2]*v[1], u[2]*v[0] - u[0]*v[2], u[0]*v[1] - u[1]*v[0]}
		for _, k := range f {
			for i := range 3 {
				n[k][i] += x[i]
			}
		}
	}
	return n
}

// mesh prints povray's mesh2.
func mesh(pts, normals []vec, faces [][3]int) string {
	var b strings.Builder
	list := func(name string, vs []vec) {
		fmt.Fprintf(&b, "%s{%d", name, len(vs))
		for _, v := range vs {
			fmt.Fprintf(&b, ",<%.4g,%.4g,%.4g>", v[0], v[1], v[2])
		}
		b.WriteString("}\n")
	}
	b.WriteString("mesh2{\n")
	list("vertex_vectors", pts)
	list("normal_vectors", normals)
	fmt.Fprintf(&b, "face_indices{%d", len(faces))
	for _, f := range faces {
		fmt.Fprintf(&b, ",<%d,%d,%d>", f[0], f[1], f[2])
	}
	b.WriteString("}\n}\n")
	return b.String()
}
