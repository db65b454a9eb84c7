// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"math"
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/optics"
	"boardhand/internal/sight/background"
	"boardhand/internal/sight/pixels"
	"boardhand/internal/sight/register"
	"boardhand/internal/sight/silhouette"
)

// eye is what a reader has learnt of one table in one light: where every pixel
// lies on the board, the last settled picture and the pieces in it, what the bare
// board looks like, and the colours of both sides.
type eye struct {
	setup  Setup
	ground *pixels.Plane
	reduce float64 // picture pixels a plate pixel
	shapes *silhouette.Outlines
	build  silhouette.Builds // of this set of pieces

	board  pieces     // in the last settled picture
	pieces []standing // the same, nearest to the camera's foot point first
	stack  silhouette.Stack
	pawns  [64][]silhouette.Cover // the pixels of a pawn in the middle of each square

	around  bool               // what lies beside the board is as in the last settled picture: no bump since
	raw     [2]*pixels.Image   // the last two settled pictures as they came from the camera, the last first; both the same after the first
	last    *background.Memory // the last settled picture; nil before there was one
	former  *eye               // of another position on this table, until a picture has been settled on
	bare    *background.Memory // the bare board, where seen, else as its like elsewhere
	coat    *background.Memory // the bare board as its open places are, without grain
	shading *background.Shadows
	kinds   []uint8 // what the board is at each pixel: dark, light, margin, or mixed
	bareN   []uint8 // times each pixel was seen bare, at most bareMost

	swatches background.Bins
	tallies  [2][silhouette.Bands]*background.Histogram
	palettes [2][silhouette.Bands]background.Palette
	air      background.Conditions
	samples  []int32 // pixels by which the light is compared
	touches  touches // of the change being weighed

	keypoints register.Keypoints // of the last settled picture
	met       []known            // the officers of the first picture
	drifts    []float32          // of the likeness in use
}

// newEye lays out the geometry for a view; former is the eye of another board
// seen so, nil for none.
func newEye(s Setup, v optics.View, board pieces, former *eye) *eye {
	e := &eye{setup: s, board: board, air: background.Conditions{Noise: 1}, build: silhouette.Uniform(silhouette.Build{Body: 1, Head: 1}), former: former}
	if former != nil {
		e.reduce = former.reduce
	}
	e.look(v)
	e.place(nil)
	return e
}

// look sets the view and all that hangs on it alone.
func (e *eye) look(v optics.View) {
	if e.reduce == 0 { // kept for good: everything remembered is by plate pixel
		e.reduce = pixels.Reduction(v)
	}
	e.ground = pixels.NewPlane(v, e.setup.Image, e.reduce, e.setup.field()+e.setup.Border+1.1*e.setup.Square)
	if e.shapes == nil || math.Abs(e.shapes.Height-e.ground.Camera.Z) > 0.01*e.ground.Camera.Z {
		e.shapes = silhouette.NewOutlines(e.setup.Pieces, e.ground.Camera.Z, e.build)
	}
	for s := range chess.NoSquare {
		e.pawns[s] = stand(e.ground, e.shapes, chess.MakePiece(chess.White, chess.Pawn), e.setup.centre(s)).covers
	}
	e.kinds = make([]uint8, e.ground.W*e.ground.H)
	for i := range e.kinds {
		k, ok := e.kindOf(int32(i))
		if edge := e.setup.field() + e.setup.Border; !ok {
			k = background.MixedGround
			if math.Abs(float64(e.ground.X[i])) > edge || math.Abs(float64(e.ground.Y[i])) > edge {
				k = background.NoGround
			}
		}
		e.kinds[i] = uint8(k)
	}
	e.samples = e.ground.Sample(e.setup.field()+e.setup.Border, background.LampSamples)
}

// place stands the pieces of e.board on their squares' centres, or where offsets
// (by square) say.
func (e *eye) place(at map[chess.Square]frame.Spot[frame.Board]) {
	e.pieces = nil // a verdict may still hold the old ones
	for s, p := range e.board {
		if p == chess.NoPiece {
			continue
		}
		spot, ok := at[chess.Square(s)]
		if !ok {
			spot = e.setup.centre(chess.Square(s))
		}
		m := stand(e.ground, e.shapes, p, spot)
		m.square = chess.Square(s)
		m.sigma = slack * e.setup.Square
		e.pieces = append(e.pieces, m)
	}
	slices.SortStableFunc(e.pieces, func(a, b standing) int {
		switch {
		case a.reach < b.reach:
			return -1
		case a.reach > b.reach:
			return 1
		}
		return 0
	})
	e.pile()
}

// pile rebuilds the stack from the pieces.
func (e *eye) pile() {
	n := e.ground.W * e.ground.H
	if len(e.stack.Count) != n {
		e.touches = touches{slot: make([]int32, n)}
	}
	e.stack.Rebuild(n, len(e.pieces), func(k int) []silhouette.Cover { return e.pieces[k].covers })
}

// patch is the pixels a pawn in the middle of a square would cover.
func (e *eye) patch(s chess.Square) []silhouette.Cover { return e.pawns[s] }

// mask is the pixels of the piece on a square, if one stands there.
func (e *eye) mask(s chess.Square) []silhouette.Cover {
	for k := range e.pieces {
		if e.pieces[k].square == s {
			return e.pieces[k].covers
		}
	}
	return nil
}
