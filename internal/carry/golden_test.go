// SPDX-License-Identifier: Apache-2.0

package carry

import (
	"context"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
	"unicode"

	"boardhand/internal/chess"
	"boardhand/internal/game"
	"boardhand/internal/golden"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// bases sets the diameters of all bases.
func bases(r *rig.Rig, king, queen, officer, pawn float64) {
	for _, k := range r.Pieces.Kinds().All() {
		r.Pieces.Of(k).Base = unit.MM(officer)
	}
	r.Pieces.Of(game.King).Base, r.Pieces.Of(game.Queen).Base, r.Pieces.Of(game.Pawn).Base = unit.MM(king), unit.MM(queen), unit.MM(pawn)
}

// smallBoard has squares of 28 mm, smaller magnets, and pieces on both sides
// that hold them.
func smallBoard(r *rig.Rig) {
	r.Board.Square, r.Board.Thickness, r.Board.Warp = unit.MM(28), unit.MM(3), unit.MM(0.3)
	r.Pieces.Carried, r.Pieces.Magnet.Diameter, r.Pieces.Magnet.Thickness = "both", unit.MM(4), unit.MM(1.5)
	r.Lift.Diameter, r.Lift.Thickness = unit.MM(6), unit.MM(4)
	bases(r, 13, 12, 11, 10)
}

// largeBoard has squares of 50 mm, broader pieces, axes that reach them, and a
// magnet that is lowered so little that it must go round pieces.
func largeBoard(r *rig.Rig) {
	r.Board.Square, r.Lift.Drop = unit.MM(50), unit.MM(5)
	r.Pieces.Carried = "both"
	r.Axis.X.Travel, r.Axis.X.Origin = unit.MM(430), unit.MM(215)
	r.Axis.Y.Travel, r.Axis.Y.Origin = unit.MM(430), unit.MM(215)
	r.Walls.Left, r.Walls.Right, r.Walls.Front, r.Walls.Back = unit.MM(250), unit.MM(250), unit.MM(250), unit.MM(250)
	bases(r, 24, 23, 21, 18)
}

// goldenRigs are the machines whose plans are kept as text.
var goldenRigs = []struct {
	name   string
	change func(*rig.Rig)
}{
	{"default", nil}, {"broad", withBases(0.62)}, {"trays", withTrays}, {"chute", chute}, {"small", smallBoard}, {"large", largeBoard},
}

// goldenMoves are moves of every kind, on empty and on crowded boards.
var goldenMoves = []struct{ name, fen, move, tray string }{
	{"quiet, from the second row", "rnbqkbnr/pppppppp/8/8/4P3/8/PPPP1PPP/RNBQKBNR b KQkq - 0 1", "g8f6", ""},
	{"pawn by two", "rnbqkbnr/pppppppp/8/8/4P3/8/PPPP1PPP/RNBQKBNR b KQkq - 0 1", "e7e5", ""},
	{"across an empty board", "4k3/8/8/8/8/4K3/8/q7 b - - 0 1", "a1h8", ""},
	{"beside the rim", "4k3/8/8/8/8/4K3/8/r7 b - - 0 1", "a1a8", ""},
	{"capture of a pawn", "rnbqkbnr/ppp1pppp/8/3p4/4P3/8/PPPP1PPP/RNBQKBNR b KQkq - 0 2", "d5e4", ""},
	{"capture in the middle of a crowd", "r2q1rk1/pb1nbppp/1p2pn2/2ppN3/2PP1B2/1P1BP3/P2N1PPP/R2Q1RK1 b - - 0 1", "d7e5", ""},
	{"en passant", "rnbqkbnr/ppp1pppp/8/8/3pP3/8/PPPP1PPP/RNBQKBNR b KQkq e3 0 1", "d4e3", ""},
	{"short castling", "rnbqk2r/pppp1ppp/5n2/2b1p3/2B1P3/5N2/PPPP1PPP/RNBQK2R b KQkq - 0 1", "e8g8", ""},
	{"long castling", "r3kbnr/pppqpppp/2n5/3p1b2/3P1B2/2N5/PPPQPPPP/R3KBNR b KQkq - 0 1", "e8c8", ""},
	{"promotion, a queen beside the board", "4k3/8/8/8/8/8/p6K/8 b - - 0 1", "a2a1q", "q"},
	{"promotion by capture, nobody beside the board", "4k3/8/8/8/8/8/p6K/1N6 b - - 0 1", "a2b1n", ""},
	{"bishop out of the last row", "r1bqkb1r/pp1n1ppp/2p1pn2/3p4/2PP4/2N1PN2/PP3PPP/R1BQKB1R b KQkq - 0 1", "f8d6", ""},
	{"knight into the middle of a crowd", "r1bq1rk1/pp1nbppp/2p1pn2/3p2B1/2PP4/2N1PN2/PPQ2PPP/R3KB1R b KQ - 0 1", "f6e4", ""},
	{"walled in by own pieces", "4k3/8/2ppp3/2pnp3/2prp3/8/8/4K3 b - - 0 1", "d5f4", ""},
	{"walled in by the guest's pieces", "4k3/8/2PPP3/2PnP3/2PPP3/8/8/4K3 b - - 0 1", "d5b6", ""},
	{"the guest's knight", "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1", "g1f3", ""},
}

// goldenEnds are boards after games, from which the next one is set up; those
// who are not on the board stand beside it.
var goldenEnds = []string{
	"r1bqk2r/pppp1Qpp/2n2n2/2b1p3/2B1P3/8/PPPP1PPP/RNB1K1NR b KQkq - 0 4",
	"8/5pk1/6p1/3R3p/7P/5PP1/r4PK1/8 w - - 0 40",
	"2k4r/1pp2ppp/p7/8/3n4/2P2P2/PP1K2PP/R6R w - - 0 22",
}

// What the planner makes of fixed moves on fixed machines, as text: whatever
// becomes slower, longer or tighter shows as a difference.
func TestGoldenPlans(t *testing.T) {
	for _, g := range goldenRigs {
		t.Run(g.name, func(t *testing.T) {
			p := planner(t, g.change)
			l := newLedger(p)
			l.limits()
			for i, c := range goldenMoves {
				l.moveAndBack(t, uint64(i), c.name, c.fen, c.move, c.tray)
			}
			for i, fen := range goldenEnds {
				l.setUp(t, uint64(i), fen)
			}
			l.summary()
			golden.Compare(t, "plans-"+g.name+".txt", l.text.String())
		})
	}
}

// moveAndBack notes the plan of a move and the one that takes it back.
func (l *ledger) moveAndBack(t *testing.T, seed uint64, name, fen, move, tray string) {
	t.Helper()
	pos := position(t, fen)
	m, err := pos.ParseUCI(move)
	if err != nil {
		t.Fatal(err)
	}
	s := l.p.scene(&pos, rand.New(rand.NewPCG(seed, 3)), 0.08)
	l.stand(&s, tray)
	plan, err := l.p.Move(context.Background(), s, pos, m)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	l.note(fmt.Sprintf("%s: %s in %s", name, move, fen), s, plan)
	s = l.p.After(s, plan)
	back, err := l.p.TakeBack(context.Background(), s, pos, m)
	if err != nil {
		t.Fatalf("%s, taken back: %v", name, err)
	}
	l.note(name+": taken back", s, back)
}

// setUp notes the plan of setting up from the end of a game.
func (l *ledger) setUp(t *testing.T, seed uint64, fen string) {
	t.Helper()
	pos := position(t, fen)
	s := l.p.scene(&pos, rand.New(rand.NewPCG(seed, 3)), 0.08)
	l.stand(&s, missing(&pos))
	plan, bound, err := l.p.SetUp(context.Background(), s)
	if err != nil {
		t.Fatal(err)
	}
	l.note("set up from "+fen, s, plan)
	l.printf("  no plan can take less than %.3f s\n", bound)
}

// missing are the letters of the pieces that a game begins with and that are
// not on the board.
func missing(pos *chess.Position) string {
	start := chess.Start()
	var out strings.Builder
	for c := range chess.Color(2) {
		for _, k := range game.ChessKinds.All() {
			if n := start.Pieces(c, k).Count() - pos.Pieces(c, k).Count(); n > 0 {
				out.WriteString(strings.Repeat(string(rune(chess.MakePiece(c, k).Letter())), n))
			}
		}
	}
	return out.String()
}

// stand puts pieces into tray slots, White's from the left, Black's from the
// right; without a tray they are with a person.
func (l *ledger) stand(s *Scene, letters string) {
	slots := l.p.rig.Slots()
	left, right := 0, len(slots)-1
	for _, letter := range letters {
		piece := pieceOf(letter)
		if left > right {
			return
		}
		at := left
		if piece.Color() == chess.White {
			left++
		} else {
			at, right = right, right-1
		}
		s.Pieces = append(s.Pieces, l.p.Stand(piece, chess.NoSquare, slots[at]))
	}
}

// pieceOf is the piece of a FEN letter.
func pieceOf(letter rune) chess.Piece {
	c := chess.White
	if unicode.IsLower(letter) {
		c = chess.Black
	}
	return chess.MakePiece(c, chess.Kind(strings.IndexRune(" PNBRQK", unicode.ToUpper(letter))))
}
