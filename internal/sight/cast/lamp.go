// SPDX-License-Identifier: Apache-2.0

package cast

import (
	"iter"
	"math"

	"boardhand/internal/frame"
	"boardhand/internal/sight/numeric"
	"boardhand/internal/sight/pixels"
	"boardhand/internal/sight/scene"
)

// ground is a pixel of the open board.
type ground struct {
	px   int32
	at   frame.Spot[frame.Board] // metres
	fall float64                 // how much brighter than the even board it is, logarithm
}

// open lists the pixels of the open board among some.
func open(sc *scene.Scene, now, even *pixels.Image, among iter.Seq[int]) []ground {
	var out []ground
	for i := range among {
		if sc.Grounds[i] > scene.MarginGround || sc.Stack.Open(int32(i)) < bare || now.IsUntold(i) {
			continue
		}
		at := frame.Spot[frame.Board]{X: float64(sc.Plane.X[i]), Y: float64(sc.Plane.Y[i])}
		out = append(out, ground{int32(i), at, float64(now.L[i] - even.L[i])})
	}
	return out
}

// shape is a piece as its shadow sees it: discs from its base to its top.
type shape struct {
	at     frame.Spot[frame.Board]
	height float64        // metres
	radius [discs]float64 // from the base up, metres
	widest float64        // metres
}

// shapeOf is the shape of a piece.
func shapeOf(sc *scene.Scene, m *scene.Placement) shape {
	s := shape{at: m.At, height: sc.Setup.Pieces[m.Piece.Kind()].Height}
	for i := range s.radius {
		s.radius[i] = sc.Outlines.Radius(m.Piece.Kind(), float64(i)/(discs-1))
		s.widest = max(s.widest, s.radius[i])
	}
	return s
}

// depth is how deep a place on the board lies in the shadow of a shape under a lamp: 0 in its
// middle, 1 at its edge, more outside of it, never more than fringe.
func (s *shape) depth(lamp frame.Point[frame.Board], at frame.Spot[frame.Board]) float64 {
	off, to := at.Sub(s.at), lamp.Spot().Sub(at).Scale(s.height/lamp.Z) // its ray to the lamp, up to the top
	long, along, across := to.Norm(), off.X*to.X+off.Y*to.Y, off.X*to.Y-off.Y*to.X
	if m := fringe * s.widest * long; math.Abs(across) > m || along > m || along+long*long < -m {
		return fringe
	}
	best := fringe
	for i, r := range s.radius {
		q := off.Add(to.Scale(float64(i) / (discs - 1)))
		best = min(best, q.Norm()/r)
	}
	return best
}

// search looks for the lamp under which the shadows of some shapes agree best with what is
// dark on some open ground.
type search struct {
	shapes []shape
	on     []ground
	best   frame.Point[frame.Board]
	fits   float64
}

// try keeps a lamp if it is better than all before.
func (s *search) try(lamp frame.Point[frame.Board]) bool {
	if lamp.Z < lowestLamp {
		return false
	}
	fits := agreement(s.shapes, s.on, lamp)
	if fits <= s.fits {
		return false
	}
	s.best, s.fits = lamp, fits
	return true
}

// find finds the lamp, and how well its shadows correlate with what is dark, −1 to 1: by some
// of the ground all around the board, then closer by all of it.
func find(shapes []shape, on []ground) (frame.Point[frame.Board], float64) {
	s := search{shapes: shapes, fits: -1}
	for k := 0; k < len(on); k += 1 + len(on)/coarse {
		s.on = append(s.on, on[k])
	}
	between := 2 * math.Pi / float64(bearings)
	for far := nearest; far <= 8*nearest; far *= 2 {
		for slope := shallow; slope < 1/shallow; slope *= steeper {
			for k := range bearings {
				sin, cos := math.Sincos(between * float64(k))
				s.try(frame.Point[frame.Board]{X: far * cos, Y: far * sin, Z: far * slope})
			}
		}
	}
	s.on = on
	s.fits = agreement(shapes, on, s.best)
	for step := between / 2; step > lastStep; {
		if !s.near(step) {
			step /= 2
		}
	}
	return s.best, s.fits
}

// near tries the lamps about the best one, a share of its distance or height away.
func (s *search) near(share float64) (better bool) {
	from := s.best
	r := from.Spot().Norm()
	for _, d := range [6][3]float64{{1, 0, 0}, {-1, 0, 0}, {0, 1, 0}, {0, -1, 0}, {0, 0, 1}, {0, 0, -1}} {
		if s.try(frame.Point[frame.Board]{X: from.X + d[0]*share*r, Y: from.Y + d[1]*share*r, Z: from.Z * (1 + d[2]*share)}) {
			better = true
		}
	}
	return better
}

// agreement is how well what is dark correlates with the shadows under a lamp.
func agreement(shapes []shape, on []ground, lamp frame.Point[frame.Board]) float64 {
	var m numeric.Moments
	for _, g := range on {
		in := 0.0
		for k := range shapes {
			if shapes[k].depth(lamp, g.at) < 1 {
				in = 1
				break
			}
		}
		m.Add(in, -g.fall)
	}
	return m.Correlation()
}
