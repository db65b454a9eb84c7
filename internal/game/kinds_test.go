// SPDX-License-Identifier: Apache-2.0

package game

import (
	"slices"
	"strings"
	"testing"
)

// Chess's kinds keep the numbers by which its tables go, and the letters of the trade
// follow from their names.
func TestKindsOfChess(t *testing.T) {
	if got := ChessKinds.All(); !slices.Equal(got, []Kind{King, Queen, Bishop, Knight, Rook, Pawn}) {
		t.Errorf("%v", got)
	}
	for k, letter := range map[Kind]byte{King: 'K', Queen: 'Q', Bishop: 'B', Knight: 'N', Rook: 'R', Pawn: 'P', NoKind: ' '} {
		if got := k.Letter(); got != letter {
			t.Errorf("%v has the letter %c", k, got)
		}
		if k != NoKind && ChessKinds.Name(k) != k.String() {
			t.Errorf("%v is called %s", k, ChessKinds.Name(k))
		}
	}
	if few, err := KindsNamed([]string{"pawn", "king"}); err != nil || few.Lettered('P') != Pawn || few.Lettered('K') != King {
		t.Errorf("%v %v", few, err)
	}
}

func TestKindsOfAnotherGame(t *testing.T) {
	ks, err := KindsNamed([]string{"tall_disc", "disc", "toad"})
	if err != nil {
		t.Fatal(err)
	}
	toad := MakePiece(Black, ks.Lettered('O'))
	if got := ks.NameOf(MakePiece(White, 1)); got != "white tall disc" || ks.LetterOf(MakePiece(White, 1)) != 'T' {
		t.Errorf("the first kind is a %s", got)
	}
	if ks.NameOf(toad) != "black toad" || ks.LetterOf(toad) != 'o' || ks.NameOf(NoPiece) != "empty" {
		t.Errorf("a toad is a %s, %c", ks.NameOf(toad), ks.LetterOf(toad))
	}
	board := Board{Files: 3, Ranks: 2, Square: 0.04}
	const text = "t1d/1Oo"
	set, err := ks.ParsePlacement(board, text)
	if got := ks.Placement(board, &set); err != nil || got != text {
		t.Errorf("%s became %s: %v", text, got, err)
	}
	for _, c := range []struct{ text, says string }{{"k2/3", "neither a piece (ODT, odt)"}, {"3", "2 ranks"}} {
		if _, err := ks.ParsePlacement(board, c.text); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%q: %v", c.text, err)
		}
	}
	if p, err := ks.PieceLettered("d"); err != nil || p != MakePiece(Black, 2) {
		t.Errorf("%v %v", p, err)
	}
	if _, err := ks.PieceLettered("k"); err == nil || !strings.Contains(err.Error(), "give one of ODT for White, odt for Black") {
		t.Error(err)
	}
}

func TestBadKinds(t *testing.T) {
	for _, c := range []struct {
		names, says string
	}{
		{"", "1 to 7 kinds"}, {"a b c d e f g h", "got 8"}, {"disc disc", "twice"}, {"Disc", "small letters"},
		{"tall-disc", "small letters"}, {"ab ba aba", "no letter of its own"},
	} {
		if _, err := KindsNamed(strings.Fields(c.names)); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%q: %v", c.names, err)
		}
	}
}

func TestAscending(t *testing.T) {
	got := ChessKinds.Ascending()
	if len(got) != 6 || !slices.IsSorted(got) {
		t.Errorf("the kinds of chess ascending are %v", got)
	}
	if all := ChessKinds.All(); ChessKinds.Key(all[0]) != "king" {
		t.Errorf("Ascending changed the order of a rig file: %v", all)
	}
}
