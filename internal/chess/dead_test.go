// SPDX-License-Identifier: Apache-2.0

package chess

import "testing"

func TestDeadPosition(t *testing.T) {
	for _, c := range []struct {
		name, fen string
		dead      bool
	}{
		{"kings", "4k3/8/8/8/8/8/8/4K3 w - - 0 1", true},
		{"a knight", "4k3/8/8/8/8/8/8/4KN2 w - - 0 1", true},
		{"a bishop", "4kb2/8/8/8/8/8/8/4K3 w - - 0 1", true},
		{"bishops of one colour", "4kb2/8/8/8/8/8/8/2B1K3 w - - 0 1", true},
		{"four bishops of one colour", "2b1k1b1/8/8/8/8/8/8/3BKB2 w - - 0 1", true},
		{"bishops of both colours", "4kb2/8/8/8/8/8/8/4KB2 w - - 0 1", false},
		{"two knights can be mated with help", "4k3/8/8/8/8/8/8/4KNN1 w - - 0 1", false},
		{"knight against knight", "4kn2/8/8/8/8/8/8/4KN2 w - - 0 1", false},
		{"knight against bishop", "4kb2/8/8/8/8/8/8/4KN2 w - - 0 1", false},
		{"a pawn", "4k3/8/8/8/8/8/4P3/4K3 w - - 0 1", false},
		{"a rook", "4k3/8/8/8/8/8/8/4KR2 w - - 0 1", false},
		// A wall of pawns that nobody can pass.
		{"a wall with a king behind it", "8/2p1p1p1/1pPpPpPp/1P1P1P1P/8/8/k7/7K w - - 0 1", false},
		{"a closed wall", "4k3/8/1p1p1p1p/pPpPpPpP/P1P1P1P1/8/8/4K3 w - - 0 1", true},
		{"the wall with a gap", "4k3/8/1p1p1p2/pPpPpP2/P1P1P3/8/8/4K3 w - - 0 1", false},
		{"the wall with a bishop", "4k3/8/1p1p1p1p/pPpPpPpP/P1P1P1P1/8/8/4KB2 w - - 0 1", false},
		{"a pawn may take", "4k3/8/8/3pp3/3PP3/8/8/4K3 w - - 0 1", false},
		{"a pawn may move", "4k3/8/1p1p1p1p/pPpPpPpP/P1P1P3/6P1/8/4K3 w - - 0 1", false},
	} {
		p := mustFEN(t, c.fen)
		if p.Dead() != c.dead {
			t.Errorf("%s (%s): dead %v, want %v", c.name, c.fen, p.Dead(), c.dead)
		}
	}
}

// mateReachable searches all legal continuations from p for a mate, breadth
// first, up to a number of positions; complete says the search was exhaustive.
func mateReachable(p Position, most int) (mate, complete bool) {
	seen := map[uint64]bool{p.Key(): true}
	queue := []Position{p}
	for len(queue) > 0 {
		q := queue[0]
		queue = queue[1:]
		moves := q.LegalMoves(nil)
		if len(moves) == 0 && q.InCheck() {
			return true, true
		}
		for _, m := range moves {
			next := q.After(m)
			if !seen[next.Key()] {
				seen[next.Key()] = true
				queue = append(queue, next)
			}
		}
		if len(seen) > most {
			return false, false
		}
	}
	return false, true
}

// Positions said to be dead have no mate in the whole tree of legal moves; the
// trees of walled-in kings are small enough to search through.
func TestDeadPositionsHaveNoMate(t *testing.T) {
	for _, fen := range []string{
		"4k3/8/1p1p1p1p/pPpPpPpP/P1P1P1P1/8/8/4K3 w - - 0 1",
		"k7/8/1p1p1p1p/pPpPpPpP/P1P1P1P1/8/8/7K b - - 0 1",
	} {
		p := mustFEN(t, fen)
		if !p.Dead() {
			t.Errorf("%s is not seen as dead", fen)
		}
		mate, complete := mateReachable(p, 50e3)
		if mate || !complete {
			t.Errorf("%s: mate %v, searched to the end %v", fen, mate, complete)
		}
	}
}

// No placement of two kings and one bishop or knight is a mate.
func TestOneMinorPieceCannotMate(t *testing.T) {
	for i := range 64 * 64 * 64 * 2 {
		k := Knight + Kind(i&1)
		white, black, minor := Square(i>>1&63), Square(i>>7&63), Square(i>>13)
		if white == black || white == minor || black == minor || kingAttacks[white].Has(black) {
			continue
		}
		p := Position{side: Black, passant: NoSquare, takeable: NoSquare}
		p.put(MakePiece(White, King), white)
		p.put(MakePiece(Black, King), black)
		p.put(MakePiece(White, k), minor)
		if !p.Dead() || p.InCheck() && !p.hasMove() {
			t.Fatalf("%s: dead %v", p.FEN(), p.Dead())
		}
	}
}
