package table

import (
	"testing"

	"boardhand/internal/chess"
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
	table := &Table{s: Settings{Square: rig.Default().Board.Square}, ids: map[Place]string{}}
	queen := chess.MakePiece(chess.Black, chess.Queen)
	w := Way{queen, Place(chess.SquareAt(3, 4)), Place(chess.SquareAt(3, 7))}
	s.handed(table, w.Piece, w.From)
	s.found(table, w, sight.Stray{Side: chess.Black, At: table.centre(chess.Square(w.To)), Sigma: 1e-3})
	if named := s.machine.Named(); len(named) > 0 {
		t.Errorf("a piece that a person carried accuses %v", named)
	}
}
