// SPDX-License-Identifier: Apache-2.0

package silhouette

import (
	"math"

	"boardhand/internal/chess"
	"boardhand/internal/game"
)

// A piece is a turned solid: its radius at each height, as shares of the base's
// radius and of the height. Nobody measures the profile of a piece, so these are
// generic (from memory of turned sets), and the outline is soft where sets
// differ: firm at the base, which is measured, loose at the head.
var profiles = game.ByKind[[]ring]{
	chess.Pawn:   {{0, 1}, {0.12, 1}, {0.30, 0.62}, {0.55, 0.42}, {0.68, 0.50}, {0.82, 0.55}, {0.95, 0.38}, {1, 0.15}},
	chess.Knight: {{0, 1}, {0.12, 1}, {0.28, 0.68}, {0.50, 0.58}, {0.75, 0.62}, {0.92, 0.45}, {1, 0.25}},
	chess.Bishop: {{0, 1}, {0.10, 1}, {0.25, 0.62}, {0.50, 0.42}, {0.70, 0.50}, {0.82, 0.52}, {0.95, 0.28}, {1, 0.12}},
	chess.Rook:   {{0, 1}, {0.12, 1}, {0.28, 0.70}, {0.55, 0.58}, {0.75, 0.66}, {0.85, 0.72}, {1, 0.70}},
	chess.Queen:  {{0, 1}, {0.10, 1}, {0.22, 0.65}, {0.50, 0.42}, {0.72, 0.48}, {0.86, 0.60}, {0.93, 0.55}, {1, 0.20}},
	chess.King:   {{0, 1}, {0.10, 1}, {0.22, 0.65}, {0.50, 0.44}, {0.72, 0.50}, {0.85, 0.58}, {0.92, 0.40}, {1, 0.18}},
}

// A ring is a turned solid's radius r at height z, as shares of the base's and of the height.
type ring struct{ z, r float64 }

// cell is what a ray through the board plane meets: how surely the piece, and
// in which band of height.
type cell struct {
	alpha float32
	band  uint8
}

// outline is the shadow a piece casts on the board plane as seen from the camera:
// cells along the line away from the camera's foot point and across it
// (symmetric, so only one half is kept).
type outline struct {
	near       float64 // metres, where the first column begins, from the piece's axis
	cols, rows int
	cells      []cell
	far, side  float64 // how far it reaches outwards and sideways, metres
}

// Outlines makes and keeps the outlines of all kinds under one camera height.
type Outlines struct {
	Pieces  game.ByKind[Shape]
	Height  float64 // the camera's, metres
	build   Builds
	byPlace map[int]*outline
	shelf   map[cutting]*outline // those of other builds too, while builds are tried
	room    []Cover              // for the piece being covered
}

// profileOf is the profile of a kind: of one that nobody knows, a plain cylinder's.
func profileOf(k game.Kind) []ring {
	if p := profiles[k]; p != nil {
		return p
	}
	return []ring{{0, 1}, {1, 1}}
}

// Build is how this set of pieces differs from the generic profile: factors on
// the radius of the body and of the head. The base is measured.
type Build struct{ Body, Head float64 }

// Builds are those of the kinds.
type Builds game.ByKind[Build]

// Uniform gives all kinds one build.
func Uniform(b Build) Builds {
	var out Builds
	for k := range out {
		out[k] = b
	}
	return out
}

// NewOutlines makes room for the outlines under a camera at a height over the board,
// metres.
func NewOutlines(pieces game.ByKind[Shape], height float64, b Builds) *Outlines {
	return &Outlines{Pieces: pieces, Height: height, build: b, byPlace: map[int]*outline{}}
}

// cutting is all that an outline hangs on but the shape and the camera.
type cutting struct {
	build Build
	key   int
}

// Redressed are the outlines of pieces in another set of builds under a camera at a height,
// metres. What was cut for those pieces and that height is not cut again until Tidy.
func (s *Outlines) Redressed(pieces game.ByKind[Shape], height float64, b Builds) *Outlines {
	n := NewOutlines(pieces, height, b)
	if n.shelf = s.shelf; n.shelf == nil || pieces != s.Pieces || height != s.Height {
		n.shelf = map[cutting]*outline{}
	}
	return n
}

// Tidy forgets the outlines of other builds.
func (s *Outlines) Tidy() { s.shelf = nil }

// factor is the build's factor at share t of the height: 1 at the base, the
// body's from a third up, the head's above three quarters.
func (b Build) factor(t float64) float64 {
	ramp := func(from, to float64) float64 { return max(0, min(1, (t-from)/(to-from))) }
	body := ramp(0.12, 0.30)
	head := ramp(0.60, 0.75)
	return 1 + body*(1-head)*(b.Body-1) + head*(b.Head-1)
}

// at returns the outline of a kind standing reach metres from the camera's foot point.
func (s *Outlines) at(k chess.Kind, reach float64) *outline {
	n := int(reach/reachStep + 0.5)
	key := n*8 + int(k)
	st, ok := s.byPlace[key]
	if ok {
		return st
	}
	c := cutting{s.build[k], key}
	if st, ok = s.shelf[c]; !ok {
		st = s.cut(k, float64(n)*reachStep)
		if s.shelf != nil {
			s.shelf[c] = st
		}
	}
	s.byPlace[key] = st
	return st
}

// Radius is the profile at share t of the height, metres.
func (s *Outlines) Radius(k chess.Kind, t float64) float64 {
	p := profileOf(k)
	for i := 1; i < len(p); i++ {
		if t <= p[i].z {
			f := (t - p[i-1].z) / (p[i].z - p[i-1].z)
			return s.build[k].factor(t) * s.Pieces[k].Base / 2 * (p[i-1].r + f*(p[i].r-p[i-1].r))
		}
	}
	return s.build[k].factor(t) * s.Pieces[k].Base / 2 * p[len(p)-1].r
}

// layer is one height of the solid as the ray meets it.
type layer struct{ zeta, radius, blur, t float64 }

func (s *Outlines) layers(k chess.Kind) [layers + 1]layer {
	var out [layers + 1]layer
	for i := range out {
		t := float64(i) / layers
		out[i] = layer{zeta: t * s.Pieces[k].Height / s.Height, radius: s.Radius(k, t), blur: baseBlur + headBlur*t, t: t}
	}
	return out
}

// cut computes an outline. A ray through the board plane at (ρ, τ) from the
// piece's axis (ρ away from the camera's foot point, reach away) is at height z
// at ((1−ζ)ρ − ζ·reach, (1−ζ)τ) from the axis, ζ = z/camera height. Exact for
// any lens, because the plane's points are taken through the lens model.
func (s *Outlines) cut(k chess.Kind, reach float64) *outline {
	piece := s.Pieces[k]
	lean := reach * piece.Height / (s.Height - piece.Height)
	st := &outline{near: -(piece.Base/2 + rim), far: lean + piece.Base/2 + rim, side: piece.Base/2 + rim}
	st.cols = int((st.far-st.near)/cellStep) + 1
	st.rows = int(st.side/cellStep) + 1
	st.cells = make([]cell, st.cols*st.rows)
	sl := s.layers(k)
	for c := range st.cols {
		for r := range st.rows {
			rho, tau := st.near+(float64(c)+0.5)*cellStep, (float64(r)+0.5)*cellStep
			st.cells[c*st.rows+r] = meet(sl[:], rho, tau, reach)
		}
	}
	return st
}

// meet finds how deep a ray goes into the solid, in units of the outline's
// blur, and at which height it first meets it (the highest: rays come down). A ray that
// passes so far out that the cell is faint meets nothing. Layers that cannot be met deeper
// are told by squares, as far as these are sure.
func meet(sl []layer, rho, tau, reach float64) cell {
	const (
		outside = -2.4 // in the blur: the cell is faint
		sure    = 1e-9 // relative: rounding is a millionth of it
	)
	best, top := outside, 0.0
	for k := range sl {
		s := &sl[k]
		x, y := (1-s.zeta)*rho-s.zeta*reach, (1-s.zeta)*tau
		d2, deeper := x*x+y*y, s.radius-best*s.blur
		if r2 := s.radius * s.radius; !(deeper > 0 && d2 < deeper*deeper*(1+sure)) {
			if d2 < r2*(1-sure) {
				top = s.t
				continue
			}
			if d2 > r2*(1+sure) {
				continue
			}
		}
		m := (s.radius - math.Hypot(x, y)) / s.blur
		best = max(best, m)
		if m > 0 {
			top = s.t
		}
	}
	if best == outside {
		return cell{}
	}
	return cell{alpha: float32(1 / (1 + math.Exp(-1.7*best))), band: bandAt(top)} // logistic ≈ normal distribution
}

// look returns the cell at (ρ, |τ|), ρ not before the outline; alpha 0 outside.
func (st *outline) look(rho, tau float64) cell {
	c := int((rho - st.near) / cellStep)
	r := int(tau / cellStep)
	if c >= st.cols || r >= st.rows {
		return cell{}
	}
	return st.cells[c*st.rows+r]
}

// Shape is what the rig file says of one kind of piece, metres.
type Shape struct{ Height, Base float64 }
