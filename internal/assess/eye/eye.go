// SPDX-License-Identifier: Apache-2.0

// Package eye computes what a camera above the board sees of the pieces: from
// which height the field is in the picture, how pieces lean in it, and what they
// hide of one another. Ideal lens straight above the field's middle, upright
// pieces. Frame Board.
package eye

import (
	"fmt"
	"math"

	"boardhand/internal/frame"
	"boardhand/internal/game"
	"boardhand/internal/optics"
	"boardhand/internal/rig"
)

// View is the nominal camera of a rig over its board.
type View struct {
	rig  *rig.Rig
	view optics.View
}

// Over is the view that a rig's camera has.
func Over(r *rig.Rig) (View, error) {
	c := r.Camera
	v, err := optics.Nominal(c.Image, float64(c.HFOV), float64(c.Height), c.WhiteSide)
	return View{r, v}, err
}

// HeightNeeded is the least camera height, metres, from which the field and the
// heads of pieces on the outer squares are in the picture, with room for a camera hung
// and turned by eye: so many standard deviations of how far the picture's edge may lie
// off. Range: sigmas 0–4. Accuracy: see hungOff. Source: similar triangles.
func HeightNeeded(r *rig.Rig, sigmas float64) (float64, error) {
	c := r.Camera
	if _, err := optics.Nominal(c.Image, float64(c.HFOV), float64(c.Height), c.WhiteSide); err != nil {
		return 0, err
	}
	t, short := Tallest(r), shortSide(c)
	field := float64(r.Board.Field()) / 2
	heads := float64(max(r.Board.Files, r.Board.Ranks)-1)/2*float64(r.Board.Square) + headShare*float64(t.Base)/2
	return math.Max(heightOf(c, short, field, 0, sigmas), heightOf(c, short, heads, float64(t.Height), sigmas)), nil
}

// heightOf is from where half a side, z above the board, is seen. What is left free
// grows with the height, by less than it gains: a few rounds settle it.
func heightOf(c rig.Camera, short, half, z, sigmas float64) float64 {
	h := half/short + z
	for range hungRounds {
		h = (half+sigmas*hungOff(c, short, half, h))/short + z
	}
	return h
}

// hungOff is the standard deviation of how far the board's outline lies off its place in
// the picture, metres on the board: the camera beside its place, tilted, turned about its
// axis, higher or lower, its angle and the middle of its picture off, each even between
// its ends and by itself. Accuracy: first order, and the sum taken as if normal.
func hungOff(c rig.Camera, short, half, height float64) float64 {
	sum := 0.0
	for _, most := range [...]float64{
		hungAside, hungTilt * height * (1 + short*short), hungTurn * half, hungHigh * short,
		hungAngle * half, hungMiddle * height / c.FocalPixels(),
	} {
		sum += most * most / 3 // of an even spread
	}
	return math.Sqrt(sum)
}

// shortSide is half the picture's short side as a tangent. A lens up to wideFrom is
// taken as ideal. A wider one bends straight lines: its pixels go with the angle and
// not with its tangent (equidistant projection, r = f·θ), which leaves less to the
// short side. Real lenses lie between. Source: Kannala and Brandt, IEEE Trans. PAMI 28
// (2006) 1335, eq. 3.
func shortSide(c rig.Camera) float64 {
	w, h, half := float64(c.Image[0]), float64(c.Image[1]), float64(c.HFOV)/2
	switch {
	case h >= w:
		return math.Tan(half)
	case c.HFOV > wideFrom:
		return math.Tan(half * h / w)
	}
	return math.Tan(half) * h / w
}

// Blur is the diameter, pixels, of the spot that a camera with a fixed focus makes of a
// point at a distance, metres. Range, source: as optics.Blur.
func Blur(c rig.Camera, at float64) (float64, error) {
	b, err := optics.Blur(float64(c.Focal), c.Stop, float64(c.Focus), at)
	return b / float64(c.Focal) * c.FocalPixels(), err
}

// Tallest is the shape of the tallest kind.
func Tallest(r *rig.Rig) *rig.Piece {
	all := r.Pieces.Kinds().All()
	out := r.Pieces.Of(all[0])
	for _, k := range all {
		if m := r.Pieces.Of(k); m.Height > out.Height {
			out = m
		}
	}
	return out
}

// shortest is the shape of the shortest kind.
func shortest(r *rig.Rig) *rig.Piece {
	all := r.Pieces.Kinds().All()
	out := r.Pieces.Of(all[len(all)-1])
	for _, k := range all {
		if m := r.Pieces.Of(k); m.Height < out.Height {
			out = m
		}
	}
	return out
}

// Outline is how a piece is seen on the plane of the board, metres: the disc of
// its base, that of its head, and the lines between them.
type Outline struct {
	Base, Head             frame.Spot[frame.Board] // their middles
	BaseRadius, HeadRadius float64
}

// Outline is that of a piece of a kind on a square.
func (v View) Outline(k game.Kind, sq game.Square) (Outline, error) {
	m := v.rig.Pieces.Of(k)
	o := Outline{Base: v.rig.Board.Squares().Centre(sq), BaseRadius: float64(m.Base) / 2}
	o.HeadRadius = headShare * o.BaseRadius * float64(v.rig.Camera.Height) / float64(v.rig.Camera.Height-m.Height)
	var err error
	o.Head, err = v.view.Leaned(o.Base, float64(m.Height))
	return o, err
}

// Spill is how far the head reaches over the edge of a square of that side.
func (o Outline) Spill(side float64) float64 {
	return math.Max(math.Abs(o.Head.X-o.Base.X), math.Abs(o.Head.Y-o.Base.Y)) + o.HeadRadius - side/2
}

// Leaning is one piece leaning over its square's edge.
type Leaning struct {
	Kind   game.Kind
	Square game.Square
	Spill  float64 // m beyond its square, onto another or off the field
	Hidden float64 // share of the shortest piece on the next square outwards that it hides
}

// Leanings go through all kinds and squares.
func (v View) Leanings() ([]Leaning, error) {
	var out []Leaning
	for _, k := range v.rig.Pieces.Kinds().All() {
		for f := range v.rig.Board.Files {
			for r := range v.rig.Board.Ranks {
				l, err := v.leaning(k, game.SquareAt(f, r))
				if err != nil {
					return nil, fmt.Errorf("the %s reaches the camera: %w", v.rig.Pieces.Kinds().Name(k), err)
				}
				out = append(out, l)
			}
		}
	}
	return out, nil
}

func (v View) leaning(k game.Kind, sq game.Square) (Leaning, error) {
	o, err := v.Outline(k, sq)
	if err != nil {
		return Leaning{}, err
	}
	l := Leaning{Kind: k, Square: sq, Spill: o.Spill(float64(v.rig.Board.Square))}
	l.Hidden, err = v.hides(k, sq)
	return l, err
}

// hides is the share of the shortest piece on the next square outwards, along
// the lean, that this one covers in the picture.
func (v View) hides(k game.Kind, sq game.Square) (float64, error) {
	at := [2]int{sq.File(), sq.Rank()}
	board := v.rig.Board
	next := [2]int{outwards(at[0], board.Files), outwards(at[1], board.Ranks)}
	worst := 0.0
	for _, n := range [][2]int{{next[0], at[1]}, {at[0], next[1]}, next} {
		if n[0] < 0 || n[0] >= board.Files || n[1] < 0 || n[1] >= board.Ranks || n == at {
			continue
		}
		h, err := v.covered(k, sq, game.SquareAt(n[0], n[1]))
		if err != nil {
			return 0, err
		}
		worst = math.Max(worst, h)
	}
	return worst, nil
}

// outwards is the next of so many files or ranks away from the middle.
func outwards(i, of int) int {
	if i < of/2 {
		return i - 1
	}
	return i + 1
}

// covered is the share of the shortest piece on another square that lies behind
// a piece of kind k: of nine discs from its base to its head, those whose
// middles are inside the outline of k.
func (v View) covered(k game.Kind, sq, other game.Square) (float64, error) {
	m, squares := v.rig.Pieces.Of(k), v.rig.Board.Squares()
	a, b := squares.Centre(sq), squares.Centre(other)
	aTop, err := v.view.Leaned(a, float64(m.Height))
	if err != nil {
		return 0, err
	}
	bTop, err := v.view.Leaned(b, float64(shortest(v.rig).Height))
	if err != nil {
		return 0, err
	}
	hidden := 0
	for i := range axisParts {
		p := b.Add(bTop.Sub(b).Scale(float64(i) / (axisParts - 1)))
		d, share := offLine(p, a, aTop)
		if d < float64(m.Base)/2*(1+(headShare-1)*share) {
			hidden++
		}
	}
	return float64(hidden) / axisParts, nil
}

// offLine is the distance of p from the stretch a–b and where along it.
func offLine(p, a, b frame.Spot[frame.Board]) (distance, share float64) {
	d := b.Sub(a)
	if n := d.Dot(d); n > 0 {
		share = math.Max(0, math.Min(1, p.Sub(a).Dot(d)/n))
	}
	return p.Sub(a.Add(d.Scale(share))).Norm(), share
}
