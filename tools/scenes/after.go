// SPDX-License-Identifier: Apache-2.0

package main

import (
	"math"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
)

// moveKind names what a move is.
func (g *game) moveKind(m chess.Move) string {
	_, q := g.pos.Captured(m)
	switch {
	case g.pos.IsCastling(m):
		return "castling"
	case g.passant(m):
		return "passant"
	case m.Promotion() != chess.NoKind:
		return "promotion"
	case q != chess.NoSquare:
		return "capture"
	}
	return "quiet"
}

// settle makes the move and takes the picture that shows it.
func (g *game) settle(m chess.Move) {
	kind := g.moveKind(m)
	g.apply(m)
	var extra []body
	more := ""
	switch x := g.d.Float64(); {
	case x < 0.1:
		extra, more = []body{g.s.light.shade(g.d, g.s)}, "+shadow"
	case x < 0.18:
		g.nudge(m.To())
		more = "+nudge"
	case x < 0.22:
		g.bump()
		more = "+bump"
	case x < 0.3:
		g.drift()
		more = "+drift"
	}
	g.shoot("move", kind+more, g.settled(), extra...)
	g.shots[len(g.shots)-1].truth.Move = m.String()
}

// after takes pictures in which nothing was played, or something no rule allows.
func (g *game) after() {
	switch x := g.d.Float64(); {
	case x < 0.08:
		g.shoot("same", "repeat", g.settled())
	case x < 0.18:
		g.nudge(chess.NoSquare)
		g.shoot("same", "nudge", g.settled())
	case x < 0.26:
		g.shoot("same", "shadow", g.settled(), g.s.light.shade(g.d, g.s))
	case x < 0.31:
		g.drift()
		g.shoot("same", "drift", g.settled())
	case x < 0.37:
		g.bump()
		g.shoot("same", "bump", g.settled())
	case x < 0.6:
		g.illegal()
	}
}

// nudge sets a piece straight or pushes it a little, but not the given one.
func (g *game) nudge(not chess.Square) {
	for range 50 {
		q := chess.Square(g.d.IntN(64))
		if m, ok := g.at[q]; ok && q != not {
			g.at[q] = g.place(m.piece, q)
			return
		}
	}
}

// bump shifts the camera as when somebody knocks against its stand: up to
// eight pixels and about half a degree of roll.
func (g *game) bump() {
	p := g.view.pose
	px := g.d.in(2, 8) / g.view.f
	a := g.d.in(0, 2*math.Pi)
	turn := frame.FromVector([3]float64{px * 0.7 * math.Cos(a), px * 0.7 * math.Sin(a), g.d.bell(0.004, 0.009)})
	eye := g.view.eye()
	eye.X += g.d.bell(0.7, 1.5)
	eye.Y += g.d.bell(0.7, 1.5)
	g.view.pose = poseFrom(turn.Mul(p.R), eye)
}

// drift changes exposure and white balance as a cloud does.
func (g *game) drift() {
	g.gain = math.Max(0.7, math.Min(1.4, g.gain*(1+g.d.bell(0.12, 0.25))))
	for i := range g.white {
		g.white[i] = 1 + g.d.bell(0.03, 0.07)
	}
}

// illegal takes a picture of something that no rule allows, and mostly one
// of the piece put right.
func (g *game) illegal() {
	n := len(g.shots)
	for range 20 {
		switch g.d.IntN(5) {
		case 0, 1:
			g.misplaced()
		case 2:
			g.twoMoved()
		case 3:
			g.toppled()
		case 4:
			g.onLine()
		}
		if len(g.shots) > n {
			break
		}
	}
	if g.d.chance(0.6) {
		g.shoot("same", "put-right", g.settled())
	}
}

// misplaced puts a piece on an empty square where it may not go.
func (g *game) misplaced() {
	a, b := g.any(), chess.Square(g.d.IntN(64))
	m, ok := g.at[a]
	_, taken := g.at[b]
	if !ok || taken || g.legalBetween(a, b) {
		return
	}
	g.shootIllegal("illegal-place", append(g.without(a), g.place(m.piece, b)), a, b)
}

// any draws an occupied square.
func (g *game) any() chess.Square {
	for {
		if q := chess.Square(g.d.IntN(64)); g.pos.At(q) != chess.NoPiece {
			return q
		}
	}
}

// shootIllegal takes the picture; the named squares get no offsets.
func (g *game) shootIllegal(kind string, pieces []piece, squares ...chess.Square) {
	g.shoot("illegal", kind, pieces)
	g.forget(&g.shots[len(g.shots)-1], squares...)
}

// twoMoved moves two pieces of the side to move, each by a legal quiet move.
func (g *game) twoMoved() {
	a, b := g.choose(), g.choose()
	for _, m := range []chess.Move{a, b} {
		if m == 0 || g.pos.At(m.To()) != chess.NoPiece || g.passant(m) || g.pos.IsCastling(m) || m.Promotion() != chess.NoKind {
			return
		}
	}
	if a.From() == b.From() || a.To() == b.To() {
		return
	}
	pieces := append(g.without(a.From(), b.From()), g.place(g.pos.At(a.From()), a.To()), g.place(g.pos.At(b.From()), b.To()))
	g.shootIllegal("illegal-two", pieces, a.From(), b.From())
}

// toppled lays a piece on its side, over its own square and the next.
func (g *game) toppled() {
	q := g.any()
	m := g.at[q]
	for range 30 {
		m.yaw = g.d.in(0, 360)
		m.toppled = true
		if g.free(m, q) {
			g.shootIllegal("illegal-toppled", append(g.without(q), m), q)
			return
		}
	}
}

// free says whether a lying piece touches no other.
func (g *game) free(m piece, own chess.Square) bool {
	h := g.top(m.piece)
	s, c := math.Sincos(m.yaw * math.Pi / 180)
	for q, o := range g.at {
		if q == own {
			continue
		}
		for t := -0.4; t <= 0.61; t += 0.1 {
			if math.Hypot(m.x-s*h*t-o.x, m.y+c*h*t-o.y) < 0.42*g.s.square {
				return false
			}
		}
	}
	return true
}

// onLine leaves a piece of the side that is not to move between two squares.
func (g *game) onLine() {
	for range 40 {
		q := g.any()
		m := g.at[q]
		df, dr := one(g.d, -1, 0, 1), one(g.d, -1, 0, 1)
		f, r := q.File()+df, q.Rank()+dr
		if m.piece.Color() == g.pos.SideToMove() || (df == 0) == (dr == 0) || f < 0 || f > 7 || r < 0 || r > 7 || g.pos.At(chess.SquareAt(f, r)) != chess.NoPiece {
			continue
		}
		m.x += float64(df) * g.s.square * g.d.in(0.46, 0.54)
		m.y += float64(dr) * g.s.square * g.d.in(0.46, 0.54)
		g.shootIllegal("illegal-on-line", append(g.without(q), m), q)
		return
	}
}
