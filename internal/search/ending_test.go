// SPDX-License-Identifier: Apache-2.0

package search

import (
	"context"
	"testing"

	"boardhand/internal/chess"
)

// threeMen is the solution of king and one heavy piece (White) against king, by
// retrograde analysis: for every placement, in how many moves White mates.
// It knows the pieces' steps from chess.Attacks alone.
type threePieces struct {
	heavy chess.Kind
	white [64 * 64 * 64]int8 // White to move: moves to mate; 0 not won
	black [64 * 64 * 64]int8 // Black to move: moves to mate plus 1; 0 not lost
}

// placing is a placement: White's king, Black's king, the heavy piece.
type placing struct{ wk, bk, piece chess.Square }

func (p placing) index() int { return int(p.wk)<<12 | int(p.bk)<<6 | int(p.piece) }

func (t *threePieces) each(f func(p placing)) {
	for i := range 64 * 64 * 64 {
		p := placing{chess.Square(i >> 12), chess.Square(i >> 6 & 63), chess.Square(i & 63)}
		if p.wk != p.bk && p.wk != p.piece && p.bk != p.piece && !chess.Attacks(chess.King, p.wk, 0).Has(p.bk) {
			f(p)
		}
	}
}

// check says whether the heavy piece attacks s; the black king is no shield to itself.
func (t *threePieces) check(p placing, s chess.Square) bool {
	return chess.Attacks(t.heavy, p.piece, chess.Bit(p.wk)).Has(s)
}

// blackMoves calls f for every legal move of the black king that takes nothing
// and says whether there are others, which take the heavy piece.
func (t *threePieces) blackMoves(p placing, f func(q placing)) (takes bool) {
	near := chess.Attacks(chess.King, p.wk, 0)
	for b := chess.Attacks(chess.King, p.bk, 0) &^ near; b != 0; b &= b - 1 {
		s := b.First()
		switch {
		case s == p.piece:
			takes = true
		case !t.check(p, s):
			f(placing{p.wk, s, p.piece})
		}
	}
	return takes
}

// whiteMoves calls f for every legal move of White.
func (t *threePieces) whiteMoves(p placing, f func(q placing)) {
	for b := chess.Attacks(chess.King, p.wk, 0) &^ chess.Attacks(chess.King, p.bk, 0) &^ chess.Bit(p.piece); b != 0; b &= b - 1 {
		f(placing{b.First(), p.bk, p.piece})
	}
	pieces := chess.Bit(p.wk) | chess.Bit(p.bk)
	for b := chess.Attacks(t.heavy, p.piece, pieces) &^ pieces; b != 0; b &= b - 1 {
		f(placing{p.wk, p.bk, b.First()})
	}
}

// solve fills the table, nearest mates first, and returns the longest win and
// how many placements with White to move and Black not in check are won.
func (t *threePieces) solve() (longest, won, legal int) {
	lost := t.mates()
	for n := int8(1); len(lost) > 0; n++ {
		wins := t.before(lost, n)
		if len(wins) > 0 {
			longest = int(n)
		}
		lost = lost[:0]
		for _, p := range wins {
			t.blackBack(p, func(q placing) {
				if t.black[q.index()] == 0 && t.loses(q) {
					t.black[q.index()] = n + 1
					lost = append(lost, q)
				}
			})
		}
	}
	t.each(func(p placing) {
		if !t.check(p, p.bk) {
			legal++
			won += min(int(t.white[p.index()]), 1)
		}
	})
	return longest, won, legal
}

// mates finds the mates.
func (t *threePieces) mates() (found []placing) {
	t.each(func(p placing) {
		moves := 0
		takes := t.blackMoves(p, func(placing) { moves++ })
		if moves == 0 && !takes && t.check(p, p.bk) {
			t.black[p.index()] = 1
			found = append(found, p)
		}
	})
	return found
}

// before marks the placements from which White reaches a lost one as won in n.
// White's pieces move back as they move forth.
func (t *threePieces) before(lost []placing, n int8) (found []placing) {
	for _, q := range lost {
		t.whiteMoves(q, func(p placing) {
			if t.white[p.index()] == 0 && !t.check(p, p.bk) {
				t.white[p.index()] = n
				found = append(found, p)
			}
		})
	}
	return found
}

// blackBack calls f for the placements from which the black king may have come.
func (t *threePieces) blackBack(p placing, f func(q placing)) {
	near := chess.Attacks(chess.King, p.wk, 0) | chess.Bit(p.wk) | chess.Bit(p.piece)
	for b := chess.Attacks(chess.King, p.bk, 0) &^ near; b != 0; b &= b - 1 {
		f(placing{p.wk, b.First(), p.piece})
	}
}

// loses says whether every move of Black, of which there is one, is lost.
func (t *threePieces) loses(p placing) bool {
	moves, lost := 0, 0
	takes := t.blackMoves(p, func(q placing) {
		moves++
		if t.white[q.index()] > 0 {
			lost++
		}
	})
	return !takes && moves > 0 && moves == lost
}

// defend is Black's move that puts off the mate longest.
func (t *threePieces) defend(g *chess.Game) chess.Move {
	p := g.Position()
	piece := p.ByKind(t.heavy).First()
	from := p.KingSquare(chess.Black)
	best, to := int8(-1), from
	for _, m := range p.LegalMoves(nil) {
		if m.To() == piece {
			return m
		}
		q := placing{p.KingSquare(chess.White), m.To(), piece}
		if n := t.white[q.index()]; n > best || n == 0 {
			best, to = n, m.To()
		}
	}
	return chess.MakeMove(from, to, chess.NoKind)
}

// endgameNodes is what the player may look at for a move: far less than it
// takes to see the mate from the beginning.
const endgameNodes = 15_000

// win has the player mate from a position against the best defence and returns
// how many moves it took.
func (t *threePieces) win(tb testing.TB, fen string) int {
	tb.Helper()
	p, g := newTestPlayer(tb), chess.NewGame(mustFEN(tb, fen))
	for !g.Outcome().Over() {
		pos, m := g.Position(), chess.Move(0)
		if pos.SideToMove() == chess.Black {
			m = t.defend(g)
		} else {
			r, err := p.Think(context.Background(), At(g), Limits{Nodes: endgameNodes})
			if err != nil {
				tb.Fatal(err)
			}
			m = r.Move
		}
		if err := g.Push(m); err != nil {
			tb.Fatal(err)
		}
	}
	if o := g.Outcome(); o.Reason != chess.Checkmate || o.Result != chess.WhiteWins {
		tb.Errorf("%s: %s\n%s", fen, o, g.PGN())
	}
	return (len(g.Moves) + 1) / 2
}

// The longest wins are 10 moves with a queen and 16 with a rook (classical
// results, Ströhlein 1970, from memory; computed independently by retrograde
// analysis, as were the numbers of positions, all of them won).
func TestQueenAndRookAgainstTheBareKing(t *testing.T) {
	for _, c := range []struct {
		heavy          chess.Kind
		longest, legal int
		fens           []string
	}{
		{chess.Queen, 10, 144508, []string{"8/8/8/5k2/8/8/1Q6/K7 w - - 0 1", "8/8/8/8/3k4/8/8/K6Q w - - 0 1"}},
		{chess.Rook, 16, 175168, []string{"8/8/8/8/8/2k5/1R6/K7 w - - 0 1", "8/8/8/8/3k4/8/8/K6R w - - 0 1", "7k/8/8/8/8/8/8/KR6 w - - 0 1"}},
	} {
		var s threePieces
		s.heavy = c.heavy
		longest, won, legal := s.solve()
		if longest != c.longest || legal != c.legal || won != legal {
			t.Errorf("%s: longest win %d, %d of %d positions won; want %d and all of %d", c.heavy, longest, won, legal, c.longest, c.legal)
		}
		if underRace {
			c.fens = c.fens[:1]
		}
		for _, fen := range c.fens {
			n := s.win(t, fen)
			t.Logf("%s: mate after %d moves", fen, n)
			if n > 50 {
				t.Errorf("%s: %d moves", fen, n)
			}
		}
	}
}

// Other wins that need the plan of driving the king, the player defending too.
func TestDrivesTheKingToMate(t *testing.T) {
	for _, c := range []struct {
		fen   string
		nodes uint64
	}{
		{"8/8/8/4k3/8/8/8/2B1KB2 w - - 0 1", endgameNodes},    // two bishops
		{"8/8/8/3k4/8/8/8/K1BN4 w - - 0 1", 3 * endgameNodes}, // bishop and knight, the longest of all
		{"4k3/8/4K3/4P3/8/8/8/8 w - - 0 1", endgameNodes},     // a pawn, the king before it on the sixth rank
	} {
		if underRace && c.nodes > endgameNodes {
			continue
		}
		p, g := newTestPlayer(t), chess.NewGame(mustFEN(t, c.fen))
		for !g.Outcome().Over() && len(g.Moves) < 100 {
			r, err := p.Think(context.Background(), At(g), Limits{Nodes: c.nodes})
			if err == nil {
				err = g.Push(r.Move)
			}
			if err != nil {
				t.Fatal(err)
			}
		}
		t.Logf("%s: %s after %d plies", c.fen, g.Outcome(), len(g.Moves))
		if g.Outcome().Result != chess.WhiteWins {
			t.Errorf("%s: %s\n%s", c.fen, g.Outcome(), g.PGN())
		}
	}
}

// The bishop of the wrong colour (R. Fine, Basic Chess Endings, 1941; from memory): drawn
// with the king at the corner, and with any more such pawns; everything else is not.
func TestRookPawnWithTheWrongBishop(t *testing.T) {
	for _, c := range []struct {
		fen     string
		isDrawn bool
	}{
		{"7k/8/8/7P/8/5B2/8/4K3 w - - 0 1", true},
		{"8/6k1/8/7P/7P/5B2/8/4K3 w - - 0 1", true},
		{"k7/8/8/8/8/P7/1B6/K7 w - - 0 1", true},
		{"7k/8/8/7P/8/4B3/8/4K3 w - - 0 1", false},  // the right bishop
		{"8/8/8/7P/8/5B2/1k6/4K3 w - - 0 1", false}, // the king is far
		{"7k/8/8/6P1/8/5B2/8/4K3 w - - 0 1", false}, // no rook's pawn
		{"7k/8/8/7P/8/5B2/P7/4K3 w - - 0 1", false}, // two files
		{"7k/8/8/7P/8/5B1N/8/4K3 w - - 0 1", false}, // a knight helps
		{"7k/7p/8/7P/8/5B2/8/4K3 w - - 0 1", false}, // pawn moves may run out
		{"7k/8/8/7P/8/4BB2/8/4K3 w - - 0 1", false}, // both bishops
		{"4k3/8/8/8/p7/5b2/8/1K6 b - - 0 1", true},  // Black's pawns promote on a1, which is dark
		{"4k3/8/8/8/p7/4b3/8/1K6 b - - 0 1", false},
	} {
		pos := mustFEN(t, c.fen)
		if got := abs(evaluate(&pos)) <= tempo; got != c.isDrawn {
			t.Errorf("%s: %+d cp, drawn: want %v", c.fen, evaluate(&pos), c.isDrawn)
		}
	}
}
