// SPDX-License-Identifier: Apache-2.0

package chess

import (
	"slices"
	"testing"
)

func TestWords(t *testing.T) {
	for name, want := range map[string]Color{"white": White, "black": Black, "": Black} {
		if got := ColorNamed(name); got != want {
			t.Errorf("%q is %v, want %v", name, got, want)
		}
	}
	if got := SquareNames([]Square{SquareAt(4, 3), SquareAt(0, 0)}); !slices.Equal(got, []string{"e4", "a1"}) {
		t.Errorf("squares %v", got)
	}
	for _, p := range []Piece{MakePiece(White, Queen), MakePiece(Black, Pawn)} {
		if got, err := PieceLettered(string(p.Letter())); got != p || err != nil {
			t.Errorf("%v is read as %v, %v", p, got, err)
		}
	}
	if _, err := PieceLettered("x"); err == nil {
		t.Error("x is taken for a piece")
	}
	g := NewGame(Start())
	if got := g.SANs(); got == nil || len(got) != 0 {
		t.Errorf("no moves: %#v", got)
	}
	for _, text := range []string{"e2e4", "e7e5", "g1f3"} {
		pos := g.Position()
		m, err := pos.ParseUCI(text)
		if err != nil {
			t.Fatal(err)
		}
		if err := g.Push(m); err != nil {
			t.Fatal(err)
		}
	}
	if got := g.SANs(); !slices.Equal(got, []string{"e4", "e5", "Nf3"}) {
		t.Errorf("moves %v", got)
	}
}
