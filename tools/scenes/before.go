// SPDX-License-Identifier: Apache-2.0

package main

import (
	"math"
	"slices"

	"boardhand/internal/chess"
)

// before takes the pictures on the way to a move: the hand hovering, taking,
// carrying, and pieces left half way.
func (g *game) before(m chess.Move) {
	if g.d.chance(0.15) {
		g.reach("hand-edge", g.edge(m), g.settled())
	}
	if g.d.chance(0.22) {
		x, y := g.s.centre(m.From())
		g.reach("hand-hover", vec{x, y, g.top(g.pos.At(m.From())) + g.d.in(3, 25)}, g.settled())
	}
	if g.d.chance(0.28) {
		at := g.at[m.From()]
		g.reach("hand-take", vec{at.x, at.y, g.top(at.piece) * 0.75}, g.settled())
	}
	if g.d.chance(g.halfWay(m)) {
		g.partial(m)
	}
	if g.d.chance(0.3) {
		g.carry(m)
	}
}

// top is a piece's height.
func (g *game) top(p chess.Piece) float64 { return g.s.pieces.of[p.Kind()].height }

// reach takes a picture with the mover's hand.
func (g *game) reach(kind string, tip vec, pieces []piece) {
	side := g.pos.SideToMove()
	p := pose{tip: tip, turn: g.d.bell(0.25, 0.6), away: side == chess.Black, grip: g.d.in(3, 7), raise: g.d.in(40, 75)}
	g.shoot("hand", kind, pieces, g.arms[side].object(g.d, p))
}

// edge is a place where a hand is only just over the board: the finger tips
// over the mover's own first rows.
func (g *game) edge(m chess.Move) vec {
	y := -(4 - g.d.in(0.6, 1.6)) * g.s.square
	if g.pos.SideToMove() == chess.Black {
		y = -y
	}
	x := (float64(m.From().File()) - 3.5 + g.d.in(-1, 1)) * g.s.square
	return vec{x, y, g.s.pieces.of[chess.King].height + g.d.in(5, 30)}
}

// carry takes a picture with the piece in the hand, on its way.
func (g *game) carry(m chess.Move) {
	piece := g.at[m.From()]
	t := g.d.in(0.3, 1)
	x0, y0 := g.s.centre(m.From())
	x1, y1 := g.s.centre(m.To())
	piece.x, piece.y = x0+(x1-x0)*t, y0+(y1-y0)*t
	piece.z = g.d.in(0, 0.3)*g.s.square + 0.9*g.s.pieces.of[chess.King].height*math.Sqrt(t*(1-t))
	gone := []chess.Square{m.From()}
	if _, q := g.pos.Captured(m); q != chess.NoSquare {
		gone = append(gone, q)
	}
	pieces := append(g.without(gone...), piece)
	g.reach("hand-carry", vec{piece.x, piece.y, piece.z + 0.78*g.top(piece.piece)}, pieces)
}

// halfWay is how likely a partial state is: moves of two pieces invite it.
func (g *game) halfWay(m chess.Move) float64 {
	_, q := g.pos.Captured(m)
	switch {
	case g.pos.IsCastling(m), m.Promotion() != chess.NoKind, g.passant(m):
		return 0.6
	case q != chess.NoSquare:
		return 0.5
	}
	return 0.2
}

// partial takes a picture of the board on the way to m, no hand over it.
func (g *game) partial(m chess.Move) {
	_, q := g.pos.Captured(m)
	piece := g.at[m.From()]
	moved := g.place(piece.piece, m.To())
	switch {
	case g.pos.IsCastling(m):
		g.shoot("partial", "partial-king-first", append(g.without(m.From()), moved))
	case m.Promotion() != chess.NoKind:
		g.shoot("partial", "partial-pawn-on-last", append(g.without(m.From(), m.To()), moved))
	case g.passant(m) && g.d.chance(0.7):
		g.shoot("partial", "partial-passant", append(g.without(m.From()), moved))
	case q != chess.NoSquare:
		g.partialCapture(m, q)
	default:
		g.shoot("partial", "partial-lifted", g.without(m.From()))
	}
	last := &g.shots[len(g.shots)-1]
	g.forget(last, m.From(), q)
}

// partialCapture leaves out the taken piece, the taker, or both.
func (g *game) partialCapture(m chess.Move, q chess.Square) {
	switch g.d.IntN(3) {
	case 0:
		g.shoot("partial", "partial-taken-off", g.without(q))
	case 1:
		g.shoot("partial", "partial-lifted", g.without(m.From()))
	default:
		g.shoot("partial", "partial-both-off", g.without(m.From(), q))
	}
}

// forget takes pieces that may be off the board out of a frame's offsets.
func (g *game) forget(s *shot, squares ...chess.Square) {
	for _, q := range squares {
		if q != chess.NoSquare {
			delete(s.truth.Offsets, q.String())
		}
	}
}

// legalBetween says whether any legal move goes from a to b.
func (g *game) legalBetween(a, b chess.Square) bool {
	return slices.ContainsFunc(g.pos.LegalMoves(nil), func(m chess.Move) bool { return m.From() == a && m.To() == b })
}
