// SPDX-License-Identifier: Apache-2.0

package table

import (
	"testing"

	"boardhand/internal/carry"
	"boardhand/internal/chess"
	"boardhand/internal/diagnosis"
	"boardhand/internal/frame"
	"boardhand/internal/rig"
	"boardhand/internal/sight"
)

// After a break a piece that was on its way is looked for, and handed over,
// before any plan has begun.
func TestSuspectsBeforeAnyPlan(t *testing.T) {
	s, err := NewSuspects(rig.Default())
	if err != nil {
		t.Fatal(err)
	}
	b := &Model{Machine: Machine{Layout: Layout{Square: rig.Default().Board.Square}}, Names: Names{}}
	queen := chess.MakePiece(chess.Black, chess.Queen)
	w := Way{queen, Place(chess.SquareAt(3, 4)), Place(chess.SquareAt(3, 7))}
	s.handed(b, w.Piece, w.From)
	s.found(b, w, sight.Stray{Side: chess.Black, At: b.Layout.centre(chess.Square(w.To)), Sigma: 1e-3})
	if named := s.machine.Named(); len(named) > 0 {
		t.Errorf("a piece that a person carried accuses %v", named)
	}
}

// A piece that is fetched from no place at all keeps its name, on a machine
// with slots and on one without.
func TestAFetchedPieceKeepsItsName(t *testing.T) {
	pos, err := chess.ParseFEN("rnbqkbnr/pppppppp/8/8/4P3/8/PPPP1PPP/RNBQKBNR b KQkq - 0 1")
	if err != nil {
		t.Fatal(err)
	}
	m, err := pos.ParseUCI("b8c6")
	if err != nil {
		t.Fatal(err)
	}
	g := chess.NewGame(pos)
	for _, slots := range [][]frame.Spot[frame.Board]{nil, {{X: 0.2, Y: 0.1}}} {
		b := &Model{Machine: Machine{Layout: Layout{Square: rig.Default().Board.Square, Slots: slots}}, Names: Names{}, Game: g, Decided: m}
		knight := chess.MakePiece(chess.Black, chess.Knight)
		s := carry.Step{Do: carry.Carry, Piece: knight, From: chess.NoSquare, To: m.To(),
			PiecePath: []frame.Spot[frame.Board]{{X: -0.07, Y: 0.09}, {X: -0.06, Y: 0.06}}}
		if w := b.Way(s); w.From != Place(m.From()) || b.Identity(knight, w.From).ID != "b8" {
			t.Errorf("with %d slots it comes from %v", len(slots), w.From)
		}
	}
}

// A piece that stayed is judged before a person is asked to move it; what the
// person did is not put down to the machine.
func TestWhatAPersonMovedHasNotArrived(t *testing.T) {
	s, err := NewSuspects(rig.Default())
	if err != nil {
		t.Fatal(err)
	}
	pos := chess.Start()
	m, err := pos.ParseUCI("e2e4")
	if err != nil {
		t.Fatal(err)
	}
	from, to := chess.SquareAt(4, 1), chess.SquareAt(4, 3)
	b := &Model{Machine: Machine{Layout: Layout{Square: rig.Default().Board.Square}, Side: pos.SideToMove()}, Names: Names{}, Vouched: map[Place]bool{}, Game: chess.NewGame(pos), Decided: m,
		Offsets: map[chess.Square]sight.Offset{from: {Square: from, Sigma: 1e-3}}}
	b.Now.Board = BoardOf(pos)
	s.begin(b)
	pawn := pos.At(from)
	s.note(b, carry.Step{Do: carry.Carry, Piece: pawn, From: from, To: to, PiecePath: []frame.Spot[frame.Board]{b.Layout.centre(from), b.Layout.centre(to)}})
	b.Move(pawn, Place(from), Place(to))
	b.StayedBehind()
	s.look(b, b.Measured())
	s.forget()
	b.Now.Board = BoardOf(pos.After(m))
	b.Offsets = map[chess.Square]sight.Offset{to: {Square: to, Sigma: 1e-3}}
	s.look(b, b.Measured())
	got := s.machine.Symptoms()
	if len(got) != 1 || got[0].Outcome != diagnosis.Stayed {
		t.Errorf("the machine has %+v to say", got)
	}
	b.Now.Board = BoardOf(pos)
	b.Settle(m)
	if id := b.Identity(pawn, Place(to)).ID; id != "e2" {
		t.Errorf("moved by hand the pawn of e2 is called that of %s", id)
	}
}
