// SPDX-License-Identifier: Apache-2.0

package silhouette

import (
	"math"
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/sight/pixels"
)

// Cover is one pixel that a piece covers, how surely, and with which band
// of its height.
type Cover struct {
	Pixel int32   // row by row
	Alpha float32 // 0–1
	Band  uint8   // 0 at the base
}

// Cover lists the pixels of a piece that stands at a place on the board, and says
// how far that is from the camera's foot point, metres.
func (s *Outlines) Cover(g *pixels.Plane, k chess.Kind, at frame.Spot[frame.Board]) (covers []Cover, reach float64) {
	out := at.Sub(g.Camera.Spot())
	reach = out.Norm()
	u := frame.Spot[frame.Board]{X: 1}
	if reach > 1e-6 {
		u = out.Scale(1 / reach)
	}
	st := s.at(k, reach)
	s.room = s.room[:0]
	b := around(g, at, u, st)
	for y := b.Y0; y < b.Y1; y++ {
		s.room = st.coverRow(s.room, g, y*g.W+b.X0, y*g.W+b.X1, at, u)
	}
	return slices.Clone(s.room), reach
}

// coverRow appends the pixels from one up to another that the outline of a piece covers
// that stands at a place, u away from the camera's foot point.
func (st *outline) coverRow(to []Cover, g *pixels.Plane, from, end int, at, u frame.Spot[frame.Board]) []Cover {
	const beyond = 1.001 // surely outside, however it is rounded
	far, side := st.near+beyond*cellStep*float64(st.cols), beyond*cellStep*float64(st.rows)
	gx := g.X[from:end]
	gy := g.Y[from:end][:len(gx)]
	for i, x := range gx {
		qx, qy := float64(x)-at.X, float64(gy[i])-at.Y
		rho, tau := qx*u.X+qy*u.Y, math.Abs(qx*u.Y-qy*u.X)
		if !(rho >= st.near && rho < far && tau < side) {
			continue
		}
		if c := st.look(rho, tau); c.alpha > faint {
			to = append(to, Cover{Pixel: int32(from + i), Alpha: c.alpha, Band: c.band})
		}
	}
	return to
}

// around is the window of pixels an outline can touch.
func around(g *pixels.Plane, at, u frame.Spot[frame.Board], st *outline) pixels.Box {
	b := pixels.Box{X0: g.W, Y0: g.H, X1: 0, Y1: 0}
	for _, c := range [4][2]float64{{st.near, st.side}, {st.near, -st.side}, {st.far, st.side}, {st.far, -st.side}} {
		p := frame.Spot[frame.Board]{X: at.X + c[0]*u.X + c[1]*u.Y, Y: at.Y + c[0]*u.Y - c[1]*u.X}
		i, j, ok := g.Project(p.At(0))
		if !ok || math.IsNaN(i) || math.IsNaN(j) {
			continue
		}
		i, j = math.Max(-2, math.Min(i, float64(g.W)+2)), math.Max(-2, math.Min(j, float64(g.H)+2))
		b = pixels.Box{X0: min(b.X0, int(i)-1), Y0: min(b.Y0, int(j)-1), X1: max(b.X1, int(i)+3), Y1: max(b.Y1, int(j)+3)}
	}
	return pixels.Box{X0: max(b.X0, 0), Y0: max(b.Y0, 0), X1: min(b.X1, g.W), Y1: min(b.Y1, g.H)}
}
