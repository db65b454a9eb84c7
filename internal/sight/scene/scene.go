// SPDX-License-Identifier: Apache-2.0

package scene

import (
	"math"
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/optics"
	"boardhand/internal/sight/pixels"
	"boardhand/internal/sight/silhouette"
)

// Scene is which pieces stand where on the board of one view, in depth order, with
// the pixels they cover, and where every pixel lies on the board plane.
type Scene struct {
	Setup    Setup
	Plane    *pixels.Plane // of the rectified image
	Reduce   float64       // picture pixels a pixel of the rectified image, each way
	Outlines *silhouette.Outlines
	Build    silhouette.Builds // of this set of pieces

	Board  Occupancy   // what stands on every square
	Pieces []Placement // the same, nearest to the camera's foot point first
	Stack  silhouette.Stack
	pawns  [64][]silhouette.Cover // the pixels of a pawn in the middle of each square

	Grounds []uint8 // what the board is at each pixel: dark, light, margin, or mixed
	Samples []int32 // pixels spread evenly over the board with its margin
}

// New lays out a view with the pieces of a board on their squares' centres.
// reduce is that of images to be compared with, 0 for none.
func New(s Setup, v optics.View, board Occupancy, reduce float64) Scene {
	sc := Scene{Setup: s, Board: board, Reduce: reduce, Build: silhouette.Uniform(silhouette.Build{Body: 1, Head: 1})}
	sc.SetView(v)
	sc.Place(nil)
	return sc
}

// WithPieces is a copy for another image of the same view, all of it, with pieces of its
// own (by square; else in the middle).
func (sc *Scene) WithPieces(board Occupancy, at map[chess.Square]frame.Spot[frame.Board]) *Scene {
	n, ground := *sc, *sc.Plane
	ground.Box = pixels.Box{X0: 0, Y0: 0, X1: ground.W, Y1: ground.H}
	n.Plane, n.Stack, n.Board = &ground, silhouette.Stack{}, board
	n.Place(at)
	return &n
}

// SetView sets the view and all that hangs on it alone.
func (sc *Scene) SetView(v optics.View) {
	if sc.Reduce == 0 { // kept for good: everything remembered is by image pixel
		sc.Reduce = pixels.Reduction(v)
	}
	sc.Plane = pixels.NewPlane(v, sc.Setup.Image, sc.Reduce, sc.Setup.HalfField()+sc.Setup.Border+1.1*sc.Setup.Square)
	if sc.Outlines == nil || math.Abs(sc.Outlines.Height-sc.Plane.Camera.Z) > 0.01*sc.Plane.Camera.Z {
		sc.Outlines = silhouette.NewOutlines(sc.Setup.Pieces, sc.Plane.Camera.Z, sc.Build)
	}
	for s := range chess.NoSquare {
		sc.pawns[s] = stand(sc.Plane, sc.Outlines, chess.MakePiece(chess.White, chess.Pawn), sc.Setup.Centre(s)).Covers
	}
	sc.Grounds = make([]uint8, sc.Plane.W*sc.Plane.H)
	for i := range sc.Grounds {
		k, ok := sc.GroundAt(int32(i))
		if edge := sc.Setup.HalfField() + sc.Setup.Border; !ok {
			k = MixedGround
			if math.Abs(float64(sc.Plane.X[i])) > edge || math.Abs(float64(sc.Plane.Y[i])) > edge {
				k = NoGround
			}
		}
		sc.Grounds[i] = uint8(k)
	}
	sc.Samples = sc.Plane.Sample(sc.Setup.HalfField()+sc.Setup.Border, samples)
}

// Place stands the pieces of the Board on their squares' centres, or where offsets
// (by square) say.
func (sc *Scene) Place(at map[chess.Square]frame.Spot[frame.Board]) {
	sc.Pieces = nil // a decision may still hold the old ones
	for s, p := range sc.Board {
		if p == chess.NoPiece {
			continue
		}
		spot, ok := at[chess.Square(s)]
		if !ok {
			spot = sc.Setup.Centre(chess.Square(s))
		}
		m := stand(sc.Plane, sc.Outlines, p, spot)
		m.Square = chess.Square(s)
		m.Sigma = PlacingSigma * sc.Setup.Square
		sc.Pieces = append(sc.Pieces, m)
	}
	slices.SortStableFunc(sc.Pieces, func(a, b Placement) int {
		switch {
		case a.Reach < b.Reach:
			return -1
		case a.Reach > b.Reach:
			return 1
		}
		return 0
	})
	sc.Restack()
}

// Restack rebuilds the stack from the pieces.
func (sc *Scene) Restack() {
	n := sc.Plane.W * sc.Plane.H
	sc.Stack.Rebuild(n, len(sc.Pieces), func(k int) []silhouette.Cover { return sc.Pieces[k].Covers })
}

// Covers is the pixels that a pawn in the middle of a square would cover, and those of
// the piece on it, if one stands there.
func (sc *Scene) Covers(s chess.Square) [2][]silhouette.Cover {
	for k := range sc.Pieces {
		if sc.Pieces[k].Square == s {
			return [2][]silhouette.Cover{sc.pawns[s], sc.Pieces[k].Covers}
		}
	}
	return [2][]silhouette.Cover{sc.pawns[s], nil}
}

// Places is where the pieces stand.
func (sc *Scene) Places() map[chess.Square]frame.Spot[frame.Board] {
	at := map[chess.Square]frame.Spot[frame.Board]{}
	for _, m := range sc.Pieces {
		at[m.Square] = m.At
	}
	return at
}

// Sigmas is how sure the pieces' places are, by square.
func (sc *Scene) Sigmas() map[chess.Square]float64 {
	sigma := map[chess.Square]float64{}
	for _, m := range sc.Pieces {
		sigma[m.Square] = m.Sigma
	}
	return sigma
}

// SetSigmas says how sure the pieces' places are, by square.
func (sc *Scene) SetSigmas(sigma map[chess.Square]float64) {
	for k := range sc.Pieces {
		sc.Pieces[k].Sigma = sigma[sc.Pieces[k].Square]
	}
}

// Dress gives the pieces their builds.
func (sc *Scene) Dress(b silhouette.Builds, at map[chess.Square]frame.Spot[frame.Board]) {
	sc.Build = b
	sc.Outlines = sc.Outlines.Redressed(sc.Setup.Pieces, sc.Plane.Camera.Z, b)
	sc.Place(at)
}

// Put is a piece at a place, counted to a square.
func (sc *Scene) Put(p chess.Piece, s chess.Square, at frame.Spot[frame.Board]) Placement {
	m := stand(sc.Plane, sc.Outlines, p, at)
	m.Square = s
	return m
}
