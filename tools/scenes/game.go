// SPDX-License-Identifier: Apache-2.0

package main

import (
	"fmt"
	"math"
	"slices"

	"boardhand/internal/chess"
)

// game plays a session's game and takes its pictures.
type game struct {
	d      dice
	s      *session
	pos    chess.Position
	at     map[chess.Square]piece
	beside []piece // captured pieces, on the table
	arms   [2]arm
	view   view
	gain   float64
	white  [3]float64
	shots  []shot

	// Of the rooms' sets only.
	lit      illumination
	switches []int   // before which pictures a lamp is switched
	wander   float64 // +1 or -1, where the sun goes
	things   []body  // on the border
}

// newGame sets the board up.
func newGame(d dice, s *session) (*game, error) {
	pos, err := chess.ParseFEN(s.start)
	if err != nil {
		return nil, err
	}
	g := &game{d: d, s: s, pos: pos, at: map[chess.Square]piece{}, view: s.view, gain: 1, white: [3]float64{1, 1, 1}}
	g.arms = [2]arm{drawArm(d), drawArm(d)}
	for q := range chess.Square(64) {
		if p := pos.At(q); p != chess.NoPiece {
			g.at[q] = g.place(p, q)
		}
	}
	for range d.IntN(4) * min(1, 32-len(g.at)) {
		g.putAside(chess.MakePiece(one(d, chess.White, chess.Black), one(d, chess.Pawn, chess.Pawn, chess.Knight, chess.Bishop)))
	}
	return g, nil
}

// play takes about n pictures.
func (g *game) play(n int) []shot {
	g.shoot("same", "start", g.settled())
	for len(g.shots) < n {
		m := g.choose()
		if m == 0 {
			break
		}
		g.before(m)
		g.settle(m)
		g.after()
	}
	return g.shots
}

// choose draws a legal move, favouring the rare ones.
func (g *game) choose() chess.Move {
	moves := g.pos.LegalMoves(nil)
	if len(moves) == 0 {
		return 0
	}
	weights, sum := make([]float64, len(moves)), 0.0
	for i, m := range moves {
		weights[i] = g.weight(m)
		sum += weights[i]
	}
	x := g.d.Float64() * sum
	for i, w := range weights {
		if x -= w; x < 0 {
			return moves[i]
		}
	}
	return moves[len(moves)-1]
}

// weight says how much a move is wanted.
func (g *game) weight(m chess.Move) float64 {
	_, taken := g.pos.Captured(m)
	next := g.pos.After(m)
	switch {
	case g.pos.IsCastling(m):
		return 25
	case g.passant(m):
		return 50
	case m.Promotion() != chess.NoKind:
		return map[chess.Kind]float64{chess.Queen: 20, chess.Knight: 4, chess.Rook: 4, chess.Bishop: 1}[m.Promotion()]
	case len(next.LegalMoves(nil)) == 0:
		return 0.01
	case taken != chess.NoSquare:
		return 4
	case next.Passant() != chess.NoSquare && slices.ContainsFunc(next.LegalMoves(nil), func(r chess.Move) bool {
		return next.At(r.From()).Kind() == chess.Pawn && r.To() == next.Passant()
	}):
		return 20
	}
	return 1
}

// passant says whether m takes en passant.
func (g *game) passant(m chess.Move) bool {
	_, q := g.pos.Captured(m)
	return q != chess.NoSquare && q != m.To()
}

// settled is all pieces in their places.
func (g *game) settled() []piece { return g.without() }

// without is all pieces but those on the given squares.
func (g *game) without(gone ...chess.Square) []piece {
	pieces := slices.Clone(g.beside)
	for q := range chess.Square(64) {
		if m, ok := g.at[q]; ok && !slices.Contains(gone, q) {
			pieces = append(pieces, m)
		}
	}
	return pieces
}

// shoot takes a picture.
func (g *game) shoot(state, kind string, pieces []piece, extra ...body) {
	t := truth{State: state, Kind: kind, FEN: g.pos.FEN(), Offsets: g.offsets(), Frame: fmt.Sprintf("frame_%04d.jpg", len(g.shots)+1)}
	if state == "hand" {
		t.Offsets = map[string][2]float64{}
	}
	if g.s.room != nil {
		t.Kind, t.Room = kind+g.changeLight(state), g.s.room.kind.String()
	}
	g.shots = append(g.shots, shot{truth: t, pieces: pieces, extra: extra, view: g.view, gain: g.gain, white: g.white, things: g.things, light: g.lit})
}

// offsets are the pieces' places within their squares, mm.
func (g *game) offsets() map[string][2]float64 {
	o := map[string][2]float64{}
	for q, m := range g.at {
		x, y := g.s.centre(q)
		o[q.String()] = [2]float64{tenth(m.x - x), tenth(m.y - y)}
	}
	return o
}

// tenth rounds to 0.01 mm for the truth file.
func tenth(x float64) float64 { return math.Round(x*100) / 100 }

// apply makes the move on the board.
func (g *game) apply(m chess.Move) {
	piece := g.pos.At(m.From())
	if taken, q := g.pos.Captured(m); q != chess.NoSquare {
		delete(g.at, q)
		g.putAside(taken)
	}
	if g.pos.IsCastling(m) {
		from, to := g.pos.RookMove(m)
		rook := g.pos.At(from)
		delete(g.at, from)
		g.at[to] = g.place(rook, to)
	}
	if k := m.Promotion(); k != chess.NoKind {
		g.putAside(piece)
		piece = chess.MakePiece(piece.Color(), k)
	}
	delete(g.at, m.From())
	g.at[m.To()] = g.place(piece, m.To())
	g.pos = g.pos.After(m)
}

// putAside stands a captured piece beside the board, where there is room.
func (g *game) putAside(p chess.Piece) {
	half := 4*g.s.square + g.s.border
	m := piece{piece: p, z: -g.s.thick, yaw: g.d.in(0, 360)}
	side := one(g.d, -1.0, 1.0)
	for range 40 {
		a, b := half+g.d.in(0.4, 1.8)*g.s.square, g.d.in(-1, 1)*half
		if m.x, m.y = side*a, b; g.s.side == "left" || g.s.side == "right" {
			m.x, m.y = b, side*a
		}
		if !slices.ContainsFunc(g.beside, func(o piece) bool { return math.Hypot(o.x-m.x, o.y-m.y) < 0.7*g.s.square }) {
			break
		}
	}
	g.beside = append(g.beside, m)
}
