package search

import (
	"math/bits"

	"boardhand/internal/chess"
)

// last is the highest square of a set that is not empty.
func last(b chess.Bitboard) chess.Square {
	return chess.Square(63 - bits.LeadingZeros64(uint64(b)))
}

// minor is about what one minor man is worth: without pawns, a lead no larger
// than this does not win.
const minor = 400

const dark chess.Bitboard = 0xaa55aa55aa55aa55

// scale makes the value v (White's view) smaller where the side ahead can
// hardly win.
func scale(p *chess.Position, v int) int {
	strong := chess.White
	if v < 0 {
		strong = chess.Black
	}
	heavy := p.ByKind(chess.Rook) | p.ByKind(chess.Queen)
	if p.Men(strong, chess.Pawn) == 0 {
		if lead(p, strong) <= minor {
			return v / 8
		}
		if heavy|p.ByKind(chess.Bishop) == 0 && p.Men(strong, chess.Knight).Count() == 2 {
			return v / 16 // two knights cannot force mate
		}
	}
	white, black := p.Men(chess.White, chess.Bishop), p.Men(chess.Black, chess.Bishop)
	if heavy|p.ByKind(chess.Knight) == 0 && white.Count() == 1 && black.Count() == 1 && (white&dark == 0) != (black&dark == 0) {
		return v / 2
	}
	return v
}

// lead is how much more the officers of side c are worth than the enemy's.
func lead(p *chess.Position, c chess.Color) int {
	n := 0
	for k := chess.Knight; k <= chess.Queen; k++ {
		n += material[k].end * (p.Men(c, k).Count() - p.Men(c.Other(), k).Count())
	}
	return n
}

// mopUp helps the side that is far ahead to mate a king that has no pawns left:
// drive it to the edge (with bishop and knight, to a corner of the bishop's
// colour) and bring up the own king. White's view.
func mopUp(p *chess.Position, v int) int {
	strong := chess.White
	if v < 0 {
		strong = chess.Black
	}
	weak := strong.Other()
	if p.Men(weak, chess.Pawn) != 0 || lead(p, strong) <= minor {
		return 0
	}
	hunted, hunter := p.KingSquare(weak), p.KingSquare(strong)
	bonus := 12*(6-inward(hunted.File())-inward(hunted.Rank())) + 6*(7-distance(hunted, hunter))
	bishops := p.Men(strong, chess.Bishop)
	if p.ByKind(chess.Pawn)|p.ByKind(chess.Rook)|p.ByKind(chess.Queen) == 0 && bishops.Count() == 1 {
		a, b := chess.Square(0), chess.Square(63) // dark corners
		if bishops&dark == 0 {
			a, b = 7, 56
		}
		bonus += 20 * (7 - min(distance(hunted, a), distance(hunted, b)))
	}
	if strong == chess.Black {
		return -bonus
	}
	return bonus
}
