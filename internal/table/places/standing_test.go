// SPDX-License-Identifier: Apache-2.0

package places

import (
	"reflect"
	"testing"

	"boardhand/internal/chess"
)

func square(name string) chess.Square { return chess.SquareAt(int(name[0]-'a'), int(name[1]-'1')) }

func TestStandingIsKeptAsText(t *testing.T) {
	s := StandingOf(chess.Start())
	s.Move(chess.MakePiece(chess.White, chess.Pawn), Place(square("e2")), Place(square("e4")))
	s.Move(chess.MakePiece(chess.Black, chess.Queen), Place(square("d8")), Slot+2)
	s.Move(chess.MakePiece(chess.Black, chess.Rook), Place(square("a8")), Person)
	s.Move(chess.MakePiece(chess.White, chess.Knight), Place(square("b1")), Chute)
	s.Way = &Way{chess.MakePiece(chess.Black, chess.Pawn), Place(square("e7")), Slot + 10}
	s.Offered = Slot + 6
	const want = "1nb1kbnr/pppppppp/8/8/4P3/8/PPPP1PPP/R1BQKBNR offered@slot7 q@slot3 r@person N@chute p@e7>slot11"
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
	if at := s.Supply(queen, 0, away); at != Person {
		t.Errorf("with nobody beside the board it comes from %v", at)
	}
	s.Beside = []Beside{{queen, Chute}}
	if at := s.Supply(queen, 0, away); at != Chute {
		t.Errorf("with one in the drawer it comes from %v", at)
	}
	s.Beside = []Beside{{queen, Person}, {queen, Slot + 1}, {queen, Slot + 4}}
	if at := s.Supply(queen, 0, away); at != Slot+4 {
		t.Errorf("it comes from %v, not from the nearest slot", at)
	}
}

// Nobody vanishes: whoever is on no square any more is beside the board.
func TestPiecesAreKeptInNumber(t *testing.T) {
	pawn, queen := chess.MakePiece(chess.White, chess.Pawn), chess.MakePiece(chess.White, chess.Queen)
	s := StandingOf(chess.Start())
	number := s.Count()
	board := s.Board
	board[square("e2")], board[square("d1")] = chess.NoPiece, chess.NoPiece
	s.Agree(board, number)
	if got := s.String(); got != "rnbqkbnr/pppppppp/8/8/8/8/PPPP1PPP/RNB1KBNR P@person Q@person" {
		t.Errorf("two pieces off the board gave %s", got)
	}
	board[square("e2")] = queen
	s.Agree(board, number)
	if got := s.String(); got != "rnbqkbnr/pppppppp/8/8/8/8/PPPPQPPP/RNB1KBNR P@person" {
		t.Errorf("the queen put back gave %s", got)
	}
	if s.Count()[pawn] != 8 {
		t.Errorf("%d pawns", s.Count()[pawn])
	}
}

func FuzzParseStanding(f *testing.F) {
	for _, text := range []string{
		"rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR", "4k3/8/8/8/8/8/8/4K3 p@slot3 Q@person n@chute p@e5>slot4",
		"4k3/8/8/8/8/8/8/4K3 p@slot0", "9/8/8/8/8/8/8/8", "8/8/8/8/8/8/8/8 offered@slot2 offered@e4", "8/8/8/8/8/8/8/8 offered@slot64", "8/8/8/8/8/8/8/8 @e4", "8/8/8/8/8/8/8/ppppppppp", "",
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
