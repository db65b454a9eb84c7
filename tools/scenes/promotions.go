// SPDX-License-Identifier: Apache-2.0

package main

import (
	"strconv"
	"strings"

	"boardhand/internal/chess"
)

// The sets of short games that are mainly promotions, by pieces that nothing was learnt of.
const (
	promoTune  = "promot"
	promoValid = "promov"
)

// promotions is what a session of these sets has beyond other sessions; nil for other sets.
type promotions struct{ number int }

// promotionsOf is what a session's name asks for.
func promotionsOf(name string) *promotions {
	for _, set := range []string{promoTune, promoValid} {
		if number, ok := strings.CutPrefix(name, set); ok {
			if n, err := strconv.Atoi(number); err == nil && n > 0 {
				return &promotions{n}
			}
		}
	}
	return nil
}

// drawPieces gives the set another make: as turned ones, of school geometry, or of solids
// that have nothing in common with either, in turn by the session's number.
func (p *promotions) drawPieces(d dice, m *piecesSet) {
	switch p.number % 3 {
	case 1:
		m.drawBlocks(d)
	case 2:
		m.drawPlain(d)
	}
}

// isMismeasured says whether the heights of the rig file are wrong: three sessions in six.
func (p *promotions) isMismeasured() bool { return (p.number-1)/3%2 == 1 }

// drawStart draws a legal position in which both sides have every kind on their own first
// rank or before it, and pawns before their last step.
func (p *promotions) drawStart(d dice) string {
	for {
		var b [8][8]byte // rank 8 first
		files := d.Perm(8)
		for i, f := range files[:4] { // White promotes there
			b[1][f] = 'P'
			b[7][f] = "NBRQ"[i]
		}
		for _, f := range files[4:] { // and Black here
			b[6][f] = 'p'
		}
		for i, f := range d.Perm(4) {
			b[0][files[4+f]] = "nbrq"[i]
		}
		for _, c := range "Kk" {
			for {
				if r, f := 3+d.IntN(2), d.IntN(8); b[r][f] == 0 {
					b[r][f] = byte(c)
					break
				}
			}
		}
		fen := fenOf(b) + one(d, " w", " b") + " - - 0 30"
		pos, err := chess.ParseFEN(fen)
		if err == nil && len(promotionsIn(&pos)) >= 12 {
			return fen
		}
	}
}

// fenOf is a placement as in a FEN.
func fenOf(b [8][8]byte) string {
	var ranks []string
	for _, row := range b {
		s, empty := "", 0
		for _, c := range append(row[:], 0) {
			if c == 0 {
				empty++
				continue
			}
			s, empty = s+gap(empty)+string(rune(c)), 0
		}
		ranks = append(ranks, s+gap(empty-1))
	}
	return strings.Join(ranks, "/")
}

// promotionsIn are the promotions that can be played.
func promotionsIn(pos *chess.Position) []chess.Move {
	var out []chess.Move
	for _, m := range pos.LegalMoves(nil) {
		if m.Promotion() != chess.NoKind {
			out = append(out, m)
		}
	}
	return out
}

// playPromotions takes about n pictures: promotions to any kind as long as there are some,
// other moves between them, and now and then the pawn that is not exchanged yet.
func (g *game) playPromotions(n int) []shot {
	g.shoot("same", "start", g.settled())
	for len(g.shots) < n {
		m := g.choose()
		if more := promotionsIn(&g.pos); len(more) > 0 {
			m = one(g.d, more...)
		}
		if m == 0 {
			break
		}
		if m.Promotion() != chess.NoKind && g.d.chance(0.15) {
			g.partial(m)
		}
		g.settle(m)
	}
	return g.shots
}
