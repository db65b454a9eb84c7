// SPDX-License-Identifier: Apache-2.0

package model

import (
	"math"
	"slices"

	"boardhand/internal/carry/plan"
	"boardhand/internal/chess"
	"boardhand/internal/diagnosis"
	"boardhand/internal/frame"
	"boardhand/internal/sight"
	"boardhand/internal/table/places"
)

// Useless says whether it is useless to carry the piece of a name.
type Useless func(name string) bool

// Scene is everything on the board, at its measured place where known, and
// whoever stands in the tray.
func (b *Model) Scene(useless Useless) plan.Scene {
	var sc plan.Scene
	for q := chess.Square(0); q < chess.NoSquare; q++ {
		p := b.Now.Board[q]
		if p == chess.NoPiece {
			continue
		}
		piece := b.Piece(p, q, b.Layout.Centre(q), useless)
		if o, ok := b.Offsets[q]; ok {
			piece.At, piece.Sigma = piece.At.Add(o.Delta), o.Sigma
		}
		sc.Pieces = append(sc.Pieces, piece)
	}
	for _, m := range b.Now.Beside {
		if at, ok := b.Layout.SpotOf(m.Place); ok && m.Place >= places.Slot {
			sc.Pieces = append(sc.Pieces, b.inSlot(m.Piece, at, useless))
		}
	}
	sc.Closed = b.closed()
	return sc
}

// inSlot is a piece in a slot. In a tray that has proved too narrow its base
// counts as wide as the slots are apart, so that none is stood beside it.
func (b *Model) inSlot(p chess.Piece, at frame.Spot[frame.Board], useless Useless) plan.Piece {
	piece := b.Piece(p, chess.NoSquare, at, useless)
	if b.Narrow {
		piece.Base = max(piece.Base, b.Layout.Pitch())
	}
	return piece
}

// Shun keeps a slot, and those beside it, free: somewhere there a piece stands.
func (b *Model) Shun(p places.Place) {
	if at, ok := b.Layout.SpotOf(p); ok {
		b.Shunned = append(b.Shunned, at)
	}
}

// closed lists the slots too near a piece that stands askew in the tray.
func (b *Model) closed() (out []frame.Spot[frame.Board]) {
	askew := slices.Concat(b.Askew, b.Shunned)
	for _, slot := range b.Layout.Slots {
		if slices.ContainsFunc(askew, func(at frame.Spot[frame.Board]) bool { return at.Distance(slot) < ElbowRoom*b.Layout.Pitch() }) {
			out = append(out, slot)
		}
	}
	return out
}

// Piece is a piece at a spot, as a planner wants to know it.
func (b *Model) Piece(p chess.Piece, q chess.Square, spot frame.Spot[frame.Board], useless Useless) plan.Piece {
	name := b.Names.Of(b.Layout.PlaceOf(q, spot))
	return plan.Piece{Piece: p, Square: q, At: spot, Magnet: b.Carried[p.Color()] && !useless(name),
		Base: float64(b.Bases[p.Kind()]), Sigma: unmeasured * float64(b.Layout.Square)}
}

// SceneWith is a scene with a piece that is on its way where it was seen, and
// its index there. isStray says that it was seen elsewhere than where it began.
func (b *Model) SceneWith(sc plan.Scene, w places.Way, s sight.Stray, isStray bool, useless Useless) (plan.Scene, int) {
	from, _ := b.Layout.SpotOf(w.From)
	for i := range sc.Pieces {
		m := &sc.Pieces[i]
		on := w.From < places.Slot && m.Square == chess.Square(w.From) || w.From >= places.Slot && m.Square == chess.NoSquare && m.At.Distance(from) < places.SlotReach
		if m.Piece != w.Piece || !on {
			continue
		}
		if isStray {
			m.At, m.Sigma, m.Square = s.At, s.Sigma, chess.NoSquare
		}
		return sc, i
	}
	m := b.Piece(w.Piece, chess.NoSquare, s.At, useless)
	if isStray {
		m.Sigma = s.Sigma
	}
	sc.Pieces = append(sc.Pieces, m)
	return sc, len(sc.Pieces) - 1
}

// IsOffCentre says whether the piece on q stands too far from the centre, rather
// than not: adjusting one for nothing costs seconds.
func (b *Model) IsOffCentre(q chess.Square) bool {
	o, ok := b.Offsets[q]
	return ok && math.Hypot(o.Delta.X, o.Delta.Y)-o.Sigma > offCentre*float64(b.Layout.Square)
}

// IsCentred says whether the piece on q was measured and stands well.
func (b *Model) IsCentred(q chess.Square) bool {
	o, ok := b.Offsets[q]
	return ok && math.Hypot(o.Delta.X, o.Delta.Y) <= straightEnough*float64(b.Layout.Square)
}

// Measured is where the pieces stand as last measured.
func (b *Model) Measured() diagnosis.Scene {
	out := diagnosis.Scene{}
	for q, o := range b.Offsets {
		if p := b.Now.Board[q]; p != chess.NoPiece {
			out[b.Identity(p, places.Place(q))] = diagnosis.Sighting{At: b.Layout.Centre(q).Add(o.Delta), Sigma: o.Sigma}
		}
	}
	return out
}

// Identity names the piece at a place for the diagnosis.
func (b *Model) Identity(piece chess.Piece, at places.Place) diagnosis.Piece {
	return diagnosis.Piece{ID: b.Names.Of(at), Kind: piece.Kind().String(), Side: piece.Color().String()}
}
