// SPDX-License-Identifier: Apache-2.0

package table

import (
	"slices"
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
	table := &Table{s: Settings{Square: rig.Default().Board.Square}, ids: map[Place]string{}}
	queen := chess.MakePiece(chess.Black, chess.Queen)
	w := Way{queen, Place(chess.SquareAt(3, 4)), Place(chess.SquareAt(3, 7))}
	s.handed(table, w.Piece, w.From)
	s.found(table, w, sight.Stray{Side: chess.Black, At: table.centre(chess.Square(w.To)), Sigma: 1e-3})
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
		table := &Table{s: Settings{Square: rig.Default().Board.Square, Slots: slots}, ids: map[Place]string{}, game: g, decided: m}
		knight := chess.MakePiece(chess.Black, chess.Knight)
		s := carry.Step{Do: carry.Carry, Piece: knight, From: chess.NoSquare, To: m.To(),
			PiecePath: []frame.Spot[frame.Board]{{X: -0.07, Y: 0.09}, {X: -0.06, Y: 0.06}}}
		if w := table.way(s); w.From != Place(m.From()) || table.identity(knight, w.From).ID != "b8" {
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
	table := &Table{s: Settings{Square: rig.Default().Board.Square, Suspects: s}, ids: map[Place]string{}, game: chess.NewGame(pos), decided: m,
		pieces: map[chess.Square]sight.Offset{from: {Square: from, Sigma: 1e-3}}}
	table.now.Board = standing(pos)
	s.begin(table)
	pawn := pos.At(from)
	s.note(table, carry.Step{Do: carry.Carry, Piece: pawn, From: from, To: to, PiecePath: []frame.Spot[frame.Board]{table.centre(from), table.centre(to)}})
	table.move(pawn, Place(from), Place(to))
	table.stayedBehind()
	s.forget()
	table.now.Board = standing(pos.After(m))
	table.pieces = map[chess.Square]sight.Offset{to: {Square: to, Sigma: 1e-3}}
	s.look(table, table.measured())
	got := s.machine.Symptoms()
	if len(got) != 1 || got[0].Outcome != diagnosis.Stayed {
		t.Errorf("the machine has %+v to say", got)
	}
	table.now.Board = standing(pos)
	table.settlePieces(pos, m)
	if id := table.identity(pawn, Place(to)).ID; id != "e2" {
		t.Errorf("moved by hand the pawn of e2 is called that of %s", id)
	}
}

// scatter is an eye that sees single places only.
type scatter struct {
	Eye
	at map[chess.Square]chess.Color
}

func (e scatter) Present(at []frame.Spot[frame.Board]) []sight.Presence {
	out := make([]sight.Presence, len(at))
	for q, p := range at {
		side, is := e.at[chess.Square(q)]
		out[q] = sight.Presence{At: p, Found: p, Open: true, Side: side, Sure: 1, Sigma: 1e-3}
		if is {
			out[q].Belief = 1
		}
	}
	return out
}

func (e scatter) Strangers([]frame.Spot[frame.Board]) []sight.Stray { return nil }

// A picture that no move explains still tells which pieces the machine dragged
// along: the one that it carried last stands where the next one was to go.
func TestADisorderTellsWhoWasDragged(t *testing.T) {
	s, err := NewSuspects(rig.Default())
	if err != nil {
		t.Fatal(err)
	}
	pos, err := chess.ParseFEN("4k3/8/p7/3p4/2N5/8/8/4K3 b - - 0 1")
	if err != nil {
		t.Fatal(err)
	}
	a6, d5, c4 := chess.SquareAt(0, 5), chess.SquareAt(3, 4), chess.SquareAt(2, 3)
	table := &Table{s: Settings{Square: rig.Default().Board.Square, Suspects: s}, ids: map[Place]string{}, game: chess.NewGame(pos),
		pieces: map[chess.Square]sight.Offset{a6: {Square: a6, Sigma: 1e-3}, d5: {Square: d5, Sigma: 1e-3}}}
	table.p.Eye = scatter{at: map[chess.Square]chess.Color{d5: chess.Black, c4: chess.Black}}
	table.now.Board = standing(pos)
	s.begin(table)
	s.note(table, carry.Step{Do: carry.Travel, Path: []frame.Spot[frame.Board]{table.centre(a6), table.centre(d5)}})
	s.note(table, carry.Step{Do: carry.Carry, Piece: pos.At(d5), From: d5, To: c4, Path: []frame.Spot[frame.Board]{table.centre(d5), table.centre(c4)},
		PiecePath: []frame.Spot[frame.Board]{table.centre(d5), table.centre(c4)}})
	s.disorder(table)
	var got []string
	for _, y := range s.machine.Symptoms() {
		if y.Outcome != diagnosis.Done {
			got = append(got, string(y.Outcome)+" "+y.Piece.ID)
		}
	}
	if want := []string{"stayed " + table.identity(pos.At(d5), Place(d5)).ID, "pushed " + table.identity(pos.At(a6), Place(a6)).ID}; !slices.Equal(got, want) {
		t.Errorf("told are %q, want %q", got, want)
	}
}
