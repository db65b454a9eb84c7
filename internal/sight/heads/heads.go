// SPDX-License-Identifier: Apache-2.0

// Package heads tells of what kind a piece is from its picture at the camera's
// full resolution.
//
// A picture is cut around where its head must be, turned so that it leans
// upwards, and scaled by the pieces' bases; a small convolutional network, learnt
// by tools/heads from ray-traced pieces of many families, weighs the six kinds, and
// that nobody stands there. Of 5499 officers in ray-traced games that it did not
// learn from it names 98 in 100 rightly, given where they stand; whoever asks may
// compare what it says of pieces whose kinds are known, and trust it as far.
package heads

import (
	"errors"
	"image"
	"math"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/optics"
)

// Side is the width and height of a crop, samples.
const Side = 48

// Share is half of a crop's width, of the officers' mean base diameter: a crop
// shows a head, much of the body, and some of what lies around.
const Share = 0.75

// plane is the height of the crop's plane, of the officers' mean height: that
// at which most heads are.
const plane = 0.75

// Set is the measures of the six kinds, metres; the base's diameter is Base.
type Set struct {
	Height, Base [chess.King + 1]float64
}

// Officers are the kinds that a pawn can become.
var Officers = [...]chess.Kind{chess.Knight, chess.Bishop, chess.Rook, chess.Queen}

// mean is an officer's mean height and base, metres.
func (s *Set) mean() (height, base float64) {
	for _, k := range Officers {
		height += s.Height[k] / float64(len(Officers))
		base += s.Base[k] / float64(len(Officers))
	}
	return height, base
}

// between is the brightness between pixels; beyond the rim it is the rim's.
func between(g *image.Gray, p frame.Spot[frame.Image]) float64 {
	w, h := g.Rect.Dx(), g.Rect.Dy()
	x, y := max(0, min(float64(w-1), p.X)), max(0, min(float64(h-1), p.Y))
	i, j := min(int(x), w-2), min(int(y), h-2)
	fx, fy := x-float64(i), y-float64(j)
	at := func(x, y int) float64 { return float64(g.Pix[y*g.Stride+x]) }
	return (1-fy)*((1-fx)*at(i, j)+fx*at(i+1, j)) + fy*((1-fx)*at(i, j+1)+fx*at(i+1, j+1))
}

// Crop is the picture of a piece, and its set's measures as its picture shows
// them.
type Crop struct {
	Grey  []float32 // 0–255, row by row from where it leans to
	Extra [extras]float32
	Lean  float32 // of a middling officer: how far its top lies outwards of its base, in bases
}

// pieces are all kinds, answers those of the network: nobody, then the pieces.
const (
	pieces  = int(chess.King)
	extras  = 2 * pieces
	answers = pieces + 1
)

// ErrOutside says that a piece's picture cannot be cut.
var ErrOutside = errors.New("the piece is not in the picture")

// Cut cuts the picture of a piece whose base's centre stands at base (board
// frame, metres) out of a picture's brightness, which begins at (0, 0): side ×
// side samples, half of it share of a base.
func (s *Set) Cut(g *image.Gray, v optics.View, foot frame.Spot[frame.Board], side int, share float64) (*Crop, error) {
	height, base := s.mean()
	eye := v.Camera()
	out := foot.Sub(frame.Spot[frame.Board]{X: eye.X, Y: eye.Y})
	reach := out.Norm()
	if reach > 0 {
		out = out.Scale(1 / reach)
	} else {
		out = frame.Spot[frame.Board]{Y: 1}
	}
	across := frame.Spot[frame.Board]{X: out.Y, Y: -out.X}
	place := func(i, j float64) (frame.Spot[frame.Image], bool) { // of sample (i, j)
		unit := 2 * share * base / float64(side)
		a, o := (i-float64(side-1)/2)*unit, (float64(side-1)/2-j)*unit
		return v.Project(foot.Add(across.Scale(a)).Add(out.Scale(o)).At(plane * height))
	}
	c := &Crop{Grey: make([]float32, side*side)}
	middle, ok := place(float64(side)/2, float64(side)/2)
	next, ok2 := place(float64(side)/2+1, float64(side)/2)
	if !ok || !ok2 || middle.X < 0 || middle.Y < 0 || middle.X > float64(g.Rect.Dx()-1) || middle.Y > float64(g.Rect.Dy()-1) {
		return nil, ErrOutside
	}
	n := max(1, int(math.Ceil(math.Hypot(next.X-middle.X, next.Y-middle.Y)))) // parts of a sample each way
	for k := range c.Grey {
		sum := 0.0
		for part := range n * n {
			i := float64(k%side) + (float64(part%n)+0.5)/float64(n) - 0.5
			j := float64(k/side) + (float64(part/n)+0.5)/float64(n) - 0.5
			if p, ok := place(i, j); ok {
				sum += between(g, p)
			}
		}
		c.Grey[k] = float32(sum / float64(n*n))
	}
	c.Lean = float32(reach * height / (eye.Z - height) / base)
	for k := chess.Pawn; k <= chess.King; k++ {
		c.Extra[k-1] = float32(reach * s.Height[k] / (eye.Z - s.Height[k]) / base)
		c.Extra[pieces+int(k)-1] = float32(s.Base[k] / base)
	}
	return c, nil
}
