// SPDX-License-Identifier: Apache-2.0

package web

import (
	"math"
	"slices"
)

// leans are the outlines that the pieces on the board cover on the board plane,
// seen from the camera; none when its place is unknown.
func leans(e Event) []Lean {
	out := []Lean{}
	if e.Camera == nil {
		return out
	}
	for _, m := range e.Pieces {
		base, height := shapeOf(m, e.Machine)
		if m.Square == "" || base <= 0 || height <= 0 || height >= e.Camera.Z {
			continue
		}
		out = append(out, Lean{ID: m.ID, Points: lean(m, base, height, *e.Camera)})
	}
	return out
}

// shapeOf is the piece's own base and height, or its kind's.
func shapeOf(m Piece, machine *Machine) (base, height float64) {
	base, height = m.Base, m.Height
	if machine == nil || m.Piece == "" {
		return base, height
	}
	foot := machine.Shapes[string([]byte{m.Piece[0] &^ 0x20})]
	if base == 0 {
		base = foot.Base
	}
	if height == 0 {
		height = foot.Height
	}
	return base, height
}

// lean is the shadow of a truncated cone (base on the board, head at height
// below the camera) thrown on the board plane from the camera at c, mm, board
// frame: a disc of radius r at height h throws a disc of radius r·k around
// c + k(p − c), k = c.Z/(c.Z − h), by similar triangles. The outline is the
// convex hull of base and thrown head. Valid for 0 < h < c.Z; exact for the
// cone.
func lean(m Piece, base, height float64, c Camera) []Place {
	k := c.Z / (c.Z - height)
	head := Place{c.X + k*(m.X-c.X), c.Y + k*(m.Y-c.Y)}
	points := append(circle(Place{m.X, m.Y}, base/2), circle(head, base/2*headShare*k)...)
	return hull(points)
}

func circle(at Place, r float64) []Place {
	out := make([]Place, roundness)
	for i := range out {
		a := 2 * math.Pi * float64(i) / roundness
		out[i] = Place{tenth(at[0] + r*math.Cos(a)), tenth(at[1] + r*math.Sin(a))}
	}
	return out
}

// tenth rounds to a tenth of a millimetre: no screen shows more.
func tenth(v float64) float64 { return math.Round(v*10) / 10 }

// hull is the convex hull, counter-clockwise (Andrew's monotone chain, Inf.
// Proc. Letters 9 (1979) 216).
func hull(points []Place) []Place {
	slices.SortFunc(points, func(a, b Place) int {
		if a[0] != b[0] {
			return sign(a[0] - b[0])
		}
		return sign(a[1] - b[1])
	})
	half := func(h []Place, p Place) []Place {
		for len(h) >= 2 && turn(h[len(h)-2], h[len(h)-1], p) <= 0 {
			h = h[:len(h)-1]
		}
		return append(h, p)
	}
	var lower, upper []Place
	for i := range points {
		lower = half(lower, points[i])
		upper = half(upper, points[len(points)-1-i])
	}
	return append(lower[:len(lower)-1], upper[:len(upper)-1]...)
}

func turn(a, b, c Place) float64 {
	return (b[0]-a[0])*(c[1]-a[1]) - (b[1]-a[1])*(c[0]-a[0])
}

func sign(v float64) int {
	switch {
	case v < 0:
		return -1
	case v > 0:
		return 1
	}
	return 0
}
