// SPDX-License-Identifier: Apache-2.0

package tracking

import (
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/sight/background"
	"boardhand/internal/sight/pixels"
	"boardhand/internal/sight/scene"
	"boardhand/internal/sight/silhouette"
)

// TurnLike takes a tracker to another's view.
func (e *Tracker) TurnLike(o *Tracker) {
	if e.Plane.View != o.Plane.View {
		e.TurnTo(o.Plane.View)
	}
}

// SetAside drops what a tracker takes from another one when it catches up with that, and what it
// works in: half of what it holds.
func (e *Tracker) SetAside() {
	e.Frames = [3]*pixels.Image{}
	e.Model.DropRoom()
}

// CatchUp brings a tracker of this view to where the pieces of another stand. What they
// bared is taken from the bare board, and what they cover from the other's last settled
// picture.
func (e *Tracker) CatchUp(o *Tracker) {
	e.Frames, e.Around = o.Frames, o.Around
	stale, any := stalePixels(e.Pieces, o.Pieces, len(e.Stack.Count))
	if !any {
		return
	}
	lit := e.Relit(&e.Scene, o.Frames[0])
	at, sigma := o.Places(), o.Sigmas()
	e.Board = o.Board
	e.Place(at)
	e.SetSigmas(sigma)
	e.Model.Patch(&e.Scene, lit, stale)
}

// stalePixels marks the pixels of n that pieces cover which stand here, but not there, or not
// here but there; false where there are none.
func stalePixels(here, there []scene.Placement, n int) (stale []bool, any bool) {
	stale = make([]bool, n)
	mark := func(ms, others []scene.Placement) {
		for _, m := range ms {
			if slices.ContainsFunc(others, func(o scene.Placement) bool { return o.Piece == m.Piece && o.At.Distance(m.At) < scene.SamePlace }) {
				continue
			}
			any = true
			for _, c := range m.Covers {
				stale[c.Pixel] = true
			}
		}
	}
	mark(here, there)
	mark(there, here)
	return stale, any
}

// Anew is a tracker of the same view, with the pieces of a board where they were last seen,
// that has learnt nothing yet.
func (e *Tracker) Anew(board scene.Occupancy) *Tracker {
	n := &Tracker{Scene: e.Scene}
	at, sigma := map[chess.Square]frame.Spot[frame.Board]{}, e.Sigmas()
	for _, m := range e.Pieces {
		if board[m.Square] == m.Piece {
			at[m.Square] = m.At
		}
	}
	n.Stack, n.Board = silhouette.Stack{}, board
	n.Place(at)
	n.SetSigmas(sigma)
	return n
}

// LearnLight learns the board and the colours of both sides from a picture, and gives that in
// the light that was learnt; false where too little of the board is seen.
func (e *Tracker) LearnLight(raw *pixels.Image) (lit *pixels.Image, ok bool) {
	lit = e.Lit(raw, false)
	e.Bins = background.NewBins(lit, e.Samples)
	if !e.imagine(lit) {
		return nil, false
	}
	if clear := e.Lit(raw, false); clear != lit && e.imagine(clear) {
		lit = clear
	}
	e.LearnSides(&e.Scene, lit)
	return lit, true
}
