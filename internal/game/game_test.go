// SPDX-License-Identifier: Apache-2.0

package game

import (
	"slices"
	"strings"
	"testing"
)

var chessboard = Board{Files: 8, Ranks: 8, Square: 0.04}

func TestCentresOfSquares(t *testing.T) {
	for _, c := range []struct {
		b    Board
		s    Square
		x, y float64
	}{
		{chessboard, SquareAt(0, 0), -0.14, -0.14}, {chessboard, SquareAt(7, 3), 0.14, -0.02},
		{Board{5, 5, 0.03}, SquareAt(2, 2), 0, 0}, {Board{5, 3, 0.03}, SquareAt(4, 0), 0.06, -0.03},
	} {
		if got := c.b.Centre(c.s); got.X-c.x > 1e-15 || c.x-got.X > 1e-15 || got.Y-c.y > 1e-15 || c.y-got.Y > 1e-15 {
			t.Errorf("%v on %+v: %v, want %g, %g", c.s, c.b, got, c.x, c.y)
		}
	}
}

func TestSquaresOfABoard(t *testing.T) {
	b := Board{Files: 3, Ranks: 2, Square: 0.04}
	if got := strings.Join(SquareNames(b.Squares()), " "); got != "a1 b1 c1 a2 b2 c2" {
		t.Error(got)
	}
	for s, want := range map[Square]bool{SquareAt(2, 1): true, SquareAt(3, 1): false, SquareAt(2, 2): false, NoSquare: false} {
		if b.Has(s) != want {
			t.Errorf("%v: %v", s, !want)
		}
	}
	for _, bad := range []Board{{}, {9, 8, 0.04}, {8, 0, 0.04}, {8, 8, 0}} {
		if bad.Check() == nil {
			t.Errorf("%+v passes", bad)
		}
	}
}

func TestPlacementIsReadAsWritten(t *testing.T) {
	five := Board{Files: 5, Ranks: 5, Square: 0.04}
	for _, c := range []struct {
		b    Board
		text string
	}{{chessboard, "r3k2r/p1ppqpb1/bn2pnp1/3PN3/1p2P3/2N2Q1p/PPPBBPPP/R3K2R"}, {five, "p3P/5/2K2/5/1n3"}} {
		set, err := ChessKinds.ParsePlacement(c.b, c.text)
		if err != nil {
			t.Fatal(err)
		}
		if got := ChessKinds.Placement(c.b, &set); got != c.text {
			t.Errorf("%s became %s", c.text, got)
		}
	}
	for _, bad := range []string{"", "5/5/5/5", "5/5/5/5/6", "5/5/5/5/x4", "5/5/5/5/22", "5/5/5/5/ppp", "5/5/5/5/p5"} {
		if _, err := ChessKinds.ParsePlacement(five, bad); err == nil {
			t.Errorf("%q is taken", bad)
		}
	}
}

func FuzzPlacement(f *testing.F) {
	f.Add("8/8/8/8/8/8/8/8")
	f.Add("rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR")
	f.Fuzz(func(t *testing.T, text string) {
		set, err := ChessKinds.ParsePlacement(chessboard, text)
		if err != nil {
			return
		}
		again, err := ChessKinds.ParsePlacement(chessboard, ChessKinds.Placement(chessboard, &set))
		if err != nil || again != set {
			t.Errorf("%q: %v", text, err)
		}
	})
}

func TestUndone(t *testing.T) {
	white, black := MakePiece(White, Pawn), MakePiece(Black, Rook)
	acts := []Act{{black, SquareAt(1, 1), NoSquare}, {white, SquareAt(0, 0), SquareAt(1, 1)}}
	want := []Act{{white, SquareAt(1, 1), SquareAt(0, 0)}, {black, NoSquare, SquareAt(1, 1)}}
	if got := Undone(acts); !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
	if !slices.Equal(Undone(want), acts) {
		t.Error("undone twice they are not the same")
	}
	king, rook := Act{MakePiece(White, King), SquareAt(4, 0), SquareAt(6, 0)}, Act{MakePiece(White, Rook), SquareAt(7, 0), SquareAt(5, 0)}
	if got := Undone([]Act{king, rook}); got[0].Piece != king.Piece || got[0].To != king.From || got[1].To != rook.From {
		t.Errorf("castling is undone by %v", got)
	}
	jump, on := Act{white, SquareAt(0, 0), SquareAt(2, 2)}, Act{white, SquareAt(2, 2), SquareAt(4, 4)}
	if got := Undone([]Act{jump, on}); got[0].From != on.To || got[1].To != jump.From {
		t.Errorf("a piece that goes on is taken back by %v", got)
	}
}

func TestLetters(t *testing.T) {
	for _, k := range ChessKinds.All() {
		if got := KindLettered(rune(k.Letter())); got != k {
			t.Errorf("%c is %v, want %v", k.Letter(), got, k)
		}
	}
	for _, none := range " x1\n" {
		if got := KindLettered(none); got != NoKind {
			t.Errorf("%q is %v", none, got)
		}
	}
}
