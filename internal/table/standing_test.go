// SPDX-License-Identifier: Apache-2.0

package table

import (
	"reflect"
	"testing"

	"boardhand/internal/chess"
)

func TestStandingIsKeptAsText(t *testing.T) {
	s := StandingOf(chess.Start())
	s.move(chess.MakePiece(chess.White, chess.Pawn), Place(squares("e2")[0]), Place(squares("e4")[0]))
	s.move(chess.MakePiece(chess.Black, chess.Queen), Place(squares("d8")[0]), Slot+2)
	s.move(chess.MakePiece(chess.Black, chess.Rook), Place(squares("a8")[0]), Person)
	s.move(chess.MakePiece(chess.White, chess.Knight), Place(squares("b1")[0]), Chute)
	s.Way = &Way{chess.MakePiece(chess.Black, chess.Pawn), Place(squares("e7")[0]), Slot + 10}
	const want = "1nb1kbnr/pppppppp/8/8/4P3/8/PPPP1PPP/R1BQKBNR q@slot3 r@person N@chute p@e7>slot11"
	if got := s.String(); got != want {
		t.Errorf("kept as\n%s\nwant\n%s", got, want)
	}
	back, err := ParseStanding(want)
	if err != nil || !reflect.DeepEqual(back, s) {
		t.Errorf("came back as %v, %v", back, err)
	}
}

func TestPersonTakesTheNearestOfTheTray(t *testing.T) {
	queen := chess.MakePiece(chess.Black, chess.Queen)
	away := func(k int, _ chess.Square) float64 { return float64(10 - k) }
	var s Standing
	if at := s.supply(queen, 0, away); at != Person {
		t.Errorf("with nobody beside the board she comes from %v", at)
	}
	s.Beside = []Beside{{queen, Chute}}
	if at := s.supply(queen, 0, away); at != Chute {
		t.Errorf("with one in the drawer she comes from %v", at)
	}
	s.Beside = []Beside{{queen, Person}, {queen, Slot + 1}, {queen, Slot + 4}}
	if at := s.supply(queen, 0, away); at != Slot+4 {
		t.Errorf("she comes from %v, not from the nearest slot", at)
	}
}

// Nobody vanishes: whoever is on no square any more is beside the board.
func TestPiecesAreKeptInNumber(t *testing.T) {
	pawn, queen := chess.MakePiece(chess.White, chess.Pawn), chess.MakePiece(chess.White, chess.Queen)
	s := StandingOf(chess.Start())
	number := s.count()
	board := s.Board
	board[squares("e2")[0]], board[squares("d1")[0]] = chess.NoPiece, chess.NoPiece
	s.agree(board, number)
	if got := s.String(); got != "rnbqkbnr/pppppppp/8/8/8/8/PPPP1PPP/RNB1KBNR P@person Q@person" {
		t.Errorf("two pieces off the board gave %s", got)
	}
	board[squares("e2")[0]] = queen
	s.agree(board, number)
	if got := s.String(); got != "rnbqkbnr/pppppppp/8/8/8/8/PPPPQPPP/RNB1KBNR P@person" {
		t.Errorf("the queen put back gave %s", got)
	}
	if s.count()[pawn] != 8 {
		t.Errorf("%d pawns", s.count()[pawn])
	}
}

func FuzzParseStanding(f *testing.F) {
	for _, text := range []string{
		"rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR", "4k3/8/8/8/8/8/8/4K3 p@slot3 Q@person n@chute p@e5>slot4",
		"4k3/8/8/8/8/8/8/4K3 p@slot0", "9/8/8/8/8/8/8/8", "8/8/8/8/8/8/8/8 @e4", "8/8/8/8/8/8/8/ppppppppp", "",
	} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		s, err := ParseStanding(text)
		if err != nil {
			return
		}
		again, err := ParseStanding(s.String())
		if err != nil || !reflect.DeepEqual(again, s) {
			t.Errorf("%q came back from %q as %v, %v", text, s.String(), again, err)
		}
	})
}

func TestTasksAreKeptAsText(t *testing.T) {
	for _, task := range []Task{{}, {Kind: SetUp}, {Kind: TakeBack, Plies: 1}, {Kind: TakeBack, Plies: 2}} {
		if back, err := ParseTask(task.String()); err != nil || back != task {
			t.Errorf("%v came back as %v, %v", task, back, err)
		}
	}
	for _, text := range []string{"", "take_back", "take_back 0", "take_back 3", "take_back  1", "set_up 1", "dance"} {
		if task, err := ParseTask(text); err == nil {
			t.Errorf("%q was read as %v", text, task)
		}
	}
}
