// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/optics"
	"boardhand/internal/sight/background"
	"boardhand/internal/sight/pixels"
	"boardhand/internal/sight/silhouette"
	"math"
	"slices"
)

// scene is which pieces stand where on the board of one view, in depth order, with
// the pixels they cover, and where every pixel lies on the board plane.
type scene struct {
	setup  Setup
	ground *pixels.Plane // of the rectified image
	reduce float64       // picture pixels a pixel of the rectified image, each way
	shapes *silhouette.Outlines
	build  silhouette.Builds // of this set of pieces

	board  pieces     // what stands on every square
	pieces []standing // the same, nearest to the camera's foot point first
	stack  silhouette.Stack
	pawns  [64][]silhouette.Cover // the pixels of a pawn in the middle of each square

	kinds   []uint8 // what the board is at each pixel: dark, light, margin, or mixed
	samples []int32 // pixels spread evenly over the board with its margin
}

// newScene lays out a view with the pieces of a board on their squares' centres.
// reduce is that of images to be compared with, 0 for none.
func newScene(s Setup, v optics.View, board pieces, reduce float64) scene {
	sc := scene{setup: s, board: board, reduce: reduce, build: silhouette.Uniform(silhouette.Build{Body: 1, Head: 1})}
	sc.look(v)
	sc.place(nil)
	return sc
}

// seenAgain is a copy for another image of the same view, all of it, with pieces of its
// own (by square; else in the middle).
func (sc *scene) seenAgain(board pieces, at map[chess.Square]frame.Spot[frame.Board]) *scene {
	n, ground := *sc, *sc.ground
	ground.Box = pixels.Box{X0: 0, Y0: 0, X1: ground.W, Y1: ground.H}
	n.ground, n.stack, n.board = &ground, silhouette.Stack{}, board
	n.place(at)
	return &n
}

// look sets the view and all that hangs on it alone.
func (sc *scene) look(v optics.View) {
	if sc.reduce == 0 { // kept for good: everything remembered is by plate pixel
		sc.reduce = pixels.Reduction(v)
	}
	sc.ground = pixels.NewPlane(v, sc.setup.Image, sc.reduce, sc.setup.field()+sc.setup.Border+1.1*sc.setup.Square)
	if sc.shapes == nil || math.Abs(sc.shapes.Height-sc.ground.Camera.Z) > 0.01*sc.ground.Camera.Z {
		sc.shapes = silhouette.NewOutlines(sc.setup.Pieces, sc.ground.Camera.Z, sc.build)
	}
	for s := range chess.NoSquare {
		sc.pawns[s] = stand(sc.ground, sc.shapes, chess.MakePiece(chess.White, chess.Pawn), sc.setup.centre(s)).covers
	}
	sc.kinds = make([]uint8, sc.ground.W*sc.ground.H)
	for i := range sc.kinds {
		k, ok := sc.kindOf(int32(i))
		if edge := sc.setup.field() + sc.setup.Border; !ok {
			k = background.MixedGround
			if math.Abs(float64(sc.ground.X[i])) > edge || math.Abs(float64(sc.ground.Y[i])) > edge {
				k = background.NoGround
			}
		}
		sc.kinds[i] = uint8(k)
	}
	sc.samples = sc.ground.Sample(sc.setup.field()+sc.setup.Border, background.LampSamples)
}

// place stands the pieces of sc.board on their squares' centres, or where offsets
// (by square) say.
func (sc *scene) place(at map[chess.Square]frame.Spot[frame.Board]) {
	sc.pieces = nil // a verdict may still hold the old ones
	for s, p := range sc.board {
		if p == chess.NoPiece {
			continue
		}
		spot, ok := at[chess.Square(s)]
		if !ok {
			spot = sc.setup.centre(chess.Square(s))
		}
		m := stand(sc.ground, sc.shapes, p, spot)
		m.square = chess.Square(s)
		m.sigma = slack * sc.setup.Square
		sc.pieces = append(sc.pieces, m)
	}
	slices.SortStableFunc(sc.pieces, func(a, b standing) int {
		switch {
		case a.reach < b.reach:
			return -1
		case a.reach > b.reach:
			return 1
		}
		return 0
	})
	sc.pile()
}

// pile rebuilds the stack from the pieces.
func (sc *scene) pile() {
	n := sc.ground.W * sc.ground.H
	sc.stack.Rebuild(n, len(sc.pieces), func(k int) []silhouette.Cover { return sc.pieces[k].covers })
}

// patch is the pixels a pawn in the middle of a square would cover.
func (sc *scene) patch(s chess.Square) []silhouette.Cover { return sc.pawns[s] }

// mask is the pixels of the piece on a square, if one stands there.
func (sc *scene) mask(s chess.Square) []silhouette.Cover {
	for k := range sc.pieces {
		if sc.pieces[k].square == s {
			return sc.pieces[k].covers
		}
	}
	return nil
}

// spots is where the pieces stand.
func (sc *scene) spots() map[chess.Square]frame.Spot[frame.Board] {
	at := map[chess.Square]frame.Spot[frame.Board]{}
	for _, m := range sc.pieces {
		at[m.square] = m.at
	}
	return at
}

// sigmas is how sure the pieces's places are, by square.
func (sc *scene) sigmas() map[chess.Square]float64 {
	sigma := map[chess.Square]float64{}
	for _, m := range sc.pieces {
		sigma[m.square] = m.sigma
	}
	return sigma
}

// setSigmas says how sure the pieces's places are, by square.
func (sc *scene) setSigmas(sigma map[chess.Square]float64) {
	for k := range sc.pieces {
		sc.pieces[k].sigma = sigma[sc.pieces[k].square]
	}
}

// dress gives the pieces their builds.
func (sc *scene) dress(b silhouette.Builds, at map[chess.Square]frame.Spot[frame.Board]) {
	sc.build = b
	sc.shapes = silhouette.NewOutlines(sc.setup.Pieces, sc.ground.Camera.Z, b)
	sc.place(at)
}

// standAt is a piece at a place, counted to a square.
func (sc *scene) standAt(p chess.Piece, s chess.Square, at frame.Spot[frame.Board]) standing {
	m := stand(sc.ground, sc.shapes, p, at)
	m.square = s
	return m
}
