// SPDX-License-Identifier: Apache-2.0

package silhouette

import (
	"math"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/sight/pixels"
)

// CoverFallen lists the pixels of a fallen piece: its base's middle at a place on
// the board, its head towards an angle, radians from the board's x to its y. It lies
// on its side, so its outline is its profile, seen from above a little enlarged
// because its axis lies half a base high.
func (s *Outlines) CoverFallen(g *pixels.Plane, k chess.Kind, at frame.Spot[frame.Board], angle float64) []Cover {
	piece := s.Pieces[k]
	var covers []Cover
	z := piece.Base / 4 // the axis slopes from half a base high to the head on the board
	grow := g.Camera.Z / (g.Camera.Z - z)
	eye := g.Camera.Spot()
	foot := eye.Add(at.Sub(eye).Scale(grow))
	u := frame.Spot[frame.Board]{X: math.Cos(angle), Y: math.Sin(angle)}
	head := foot.Add(u.Scale(piece.Height * grow))
	side := grow*piece.Base*0.75 + rim
	b := g.Window(math.Min(foot.X, head.X)-side, math.Min(foot.Y, head.Y)-side, math.Max(foot.X, head.X)+side, math.Max(foot.Y, head.Y)+side)
	for y := b.Y0; y < b.Y1; y++ {
		for x := b.X0; x < b.X1; x++ {
			i := y*g.W + x
			dx, dy := float64(g.X[i])-foot.X, float64(g.Y[i])-foot.Y
			along, across := (dx*u.X+dy*u.Y)/grow, math.Abs(dx*u.Y-dy*u.X)/grow
			t := along / piece.Height
			if t < -0.05 || t > 1.05 || across > side {
				continue
			}
			end := math.Min(along, piece.Height-along)
			depth := math.Min(s.Radius(k, math.Max(0, math.Min(1, t)))-across, end)
			if depth < -rim {
				continue
			}
			alpha := float32(1 / (1 + math.Exp(-1.7*depth/(baseBlur+headBlur))))
			if alpha > faint {
				covers = append(covers, Cover{Pixel: int32(i), Alpha: alpha, Band: bandAt(t)})
			}
		}
	}
	return covers
}

// bandAt is the band of a height.
func bandAt(t float64) uint8 {
	switch {
	case t > 0.65:
		return 2
	case t > 0.2:
		return 1
	}
	return 0
}
