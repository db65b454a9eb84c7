// SPDX-License-Identifier: Apache-2.0

package search

import (
	"math/bits"

	"boardhand/internal/chess"
)

// last is the highest square of a set that is not empty.
func last(b chess.Bitboard) chess.Square {
	return chess.Square(63 - bits.LeadingZeros64(uint64(b)))
}

const dark chess.Bitboard = 0xaa55aa55aa55aa55

// scale makes the value v (White's view) smaller where the side ahead can
// hardly win.
func scale(p *chess.Position, v int) int {
	strong := chess.White
	if v < 0 {
		strong = chess.Black
	}
	heavy := p.ByKind(chess.Rook) | p.ByKind(chess.Queen)
	if p.Pieces(strong, chess.Pawn) == 0 {
		if lead(p, strong) <= minor {
			return v / 8
		}
	}
	if holdsCorner(p, strong) {
		return 0
	}
	white, black := p.Pieces(chess.White, chess.Bishop), p.Pieces(chess.Black, chess.Bishop)
	if heavy|p.ByKind(chess.Knight) == 0 && white.Count() == 1 && black.Count() == 1 && (white&dark == 0) != (black&dark == 0) {
		return v / 2
	}
	return v
}

// holdsCorner says whether a bare king holds the draw against side strong: pawns on one
// rook's file, bishops that do not guard the corner in which they would promote, and the
// king in that corner or beside it. It cannot be driven out, only stalemated (R. Fine,
// Basic Chess Endings, 1941, bishop and rook's pawn; from memory).
func holdsCorner(p *chess.Position, strong chess.Color) bool {
	weak := strong.Other()
	pawns, bishops := p.Pieces(strong, chess.Pawn), p.Pieces(strong, chess.Bishop)
	if p.ByColor(weak).Count() > 1 || pawns == 0 || bishops == 0 || p.ByColor(strong).Count() > 1+pawns.Count()+bishops.Count() {
		return false
	}
	file, rank := 0, 7
	switch {
	case pawns&^fileA == 0:
	case pawns&^fileH == 0:
		file = 7
	default:
		return false
	}
	if strong == chess.Black {
		rank = 0
	}
	guards := dark
	if corner := chess.SquareAt(file, rank); dark&chess.Bit(corner) == 0 {
		guards = ^dark
	}
	king := p.KingSquare(weak)
	return bishops&guards == 0 && max(abs(king.File()-file), abs(king.Rank()-rank)) <= 1
}

// lead is how much more the officers of side c are worth than the enemy's.
func lead(p *chess.Position, c chess.Color) int {
	n := 0
	for k := chess.Knight; k <= chess.Queen; k++ {
		n += material[k].end * (p.Pieces(c, k).Count() - p.Pieces(c.Other(), k).Count())
	}
	return n
}

// hunt values positions in which one side has only its king and the other can
// mate, for the side to move: nothing but the hunt counts there.
func hunt(p *chess.Position) (int, bool) {
	weak := p.SideToMove()
	if p.ByColor(weak).Count() > 1 {
		weak = weak.Other()
	}
	strong := weak.Other()
	if p.ByColor(weak).Count() > 1 || lead(p, strong) <= minor || p.ByKind(chess.Pawn) != 0 {
		return 0, false
	}
	hunted, hunter := p.KingSquare(weak), p.KingSquare(strong)
	v := lead(p, strong) + edgeWeight*(6-inward(hunted.File())-inward(hunted.Rank()))
	v -= nearWeight * (abs(hunted.File()-hunter.File()) + abs(hunted.Rank()-hunter.Rank()))
	heavy := p.ByKind(chess.Rook) | p.ByKind(chess.Queen)
	bishops, knights := p.ByKind(chess.Bishop), p.ByKind(chess.Knight)
	switch {
	case heavy != 0:
	case bishops == 0 && knights.Count() == 2:
		v /= 16 // two knights cannot force mate
	case bishops&dark == 0: // corners a8 and h1, where file and rank differ most
		v += cornerWeight * abs(hunted.File()-hunted.Rank())
	case bishops&^dark == 0:
		v += cornerWeight * abs(hunted.File()+hunted.Rank()-7)
	}
	if weak == p.SideToMove() {
		return -v, true
	}
	return v, true
}
