// SPDX-License-Identifier: Apache-2.0

package chess

import (
	"strings"
	"testing"
)

func TestFENSaysWhatIsWrong(t *testing.T) {
	for _, c := range []struct{ fen, says string }{
		{"", "six fields"},
		{"8/8/8/8/8/8/8/K1k5 w -", "six fields"},
		{"8/8/8/8/8/8/K1k5 w - - 0 1", "8 ranks"},
		{"9/8/8/8/8/8/8/K1k5 w - - 0 1", "rank 8"},
		{"44/8/8/8/8/8/8/K1k5 w - - 0 1", ""},
		{"x7/8/8/8/8/8/8/K1k5 w - - 0 1", "neither a piece"},
		{"8/8/8/8/8/8/8/K1k6 w - - 0 1", "rank 1 has 9"},
		{"8/8/8/8/8/8/8/K1k5 white - - 0 1", "w or b"},
		{"8/8/8/8/8/8/8/K7 w - - 0 1", "black must have one king; got 0"},
		{"8/8/8/8/8/8/8/K1k1K3 w - - 0 1", "white must have one king; got 2"},
		{"4k3/pppppppp/p7/8/8/8/8/4K3 w - - 0 1", "at most 8 pawns; got 9"},
		{"4k3/8/8/8/8/8/PPPPPPP1/QQQ1K3 w - - 0 1", "no more than 1 can have been promoted"},
		{"4k2P/8/8/8/8/8/8/4K3 w - - 0 1", "a pawn stands on h8"},
		{"4k3/8/8/8/8/8/8/4R1K1 w - - 0 1", "black's king on e8 is in check"},
		{"4k3/8/8/8/8/8/8/4K3 w K - 0 1", "rook on h1"},
		{"r3k2r/8/8/8/8/8/8/4K3 w kqk - 0 1", "each once"},
		{"4k3/8/8/8/8/8/8/4K3 w x - 0 1", "KQkq"},
		{"4k3/8/8/8/8/8/8/4K3 w - e9 0 1", "no square"},
		{"4k3/8/8/8/4P3/8/8/4K3 w - e3 0 1", "rank 6"},
		{"4k3/8/8/8/8/8/8/4K3 b - e3 0 1", "no white pawn can just have moved from e2 to e4"},
		{"4k3/8/8/8/8/8/8/4K3 w - - -1 1", "half-move clock"},
		{"4k3/8/8/8/8/8/8/4K3 w - - 0 0", "move number"},
		{"4k3/8/8/8/8/8/8/4K3 w - - x 1", "half-move clock"},
	} {
		_, err := ParseFEN(c.fen)
		if err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%q: %v; want %q", c.fen, err, c.says)
		}
	}
}

// Of what stands on a board, only what the rules cannot run on is refused.
func TestSetUpNeedNotBeReachable(t *testing.T) {
	for _, c := range []struct {
		fen, says string // "": it can be watched
		moves     int    // by hand
	}{
		{"4k3/8/8/8/8/P7/PPPPPPPP/4K3 w - -", "", 17}, // a4, two each of the pawns on b2 to h2, Kd1, Kf1
		{"4k3/8/8/8/8/8/PPPPPPP1/QQQ1K3 w - -", "", 0},
		{"4k2P/8/8/8/8/8/8/4K3 w - -", "a pawn stands on h8", 0},
		{"4k3/8/8/8/8/8/8/4R1K1 w - -", "is in check", 0},
		{"8/8/8/8/8/8/8/K7 w - -", "one king", 0},
	} {
		p, err := ParseSetUp(c.fen)
		if (err == nil) != (c.says == "") || err != nil && !strings.Contains(err.Error(), c.says) {
			t.Errorf("%q: %v", c.fen, err)
		}
		if err == nil && Unreachable(&p) == nil {
			t.Errorf("%q is said to be one that a game comes to", c.fen)
		}
		if got := len(p.LegalMoves(nil)); err == nil && c.moves > 0 && got != c.moves {
			t.Errorf("%q: %d moves, want %d", c.fen, got, c.moves)
		}
	}
}

// FIDE 9.2.3: the same position needs the same possible moves.
func TestKeyHoldsEnPassantOnlyIfItCanBeTaken(t *testing.T) {
	for _, c := range []struct {
		name, with, without string
		same                bool
	}{
		{"nobody beside it", "4k3/8/8/8/4P3/8/8/4K3 b - e3 0 1", "4k3/8/8/8/4P3/8/8/4K3 b - - 0 1", true},
		{"a pawn beside it", "4k3/8/8/8/3pP3/8/8/4K3 b - e3 0 1", "4k3/8/8/8/3pP3/8/8/4K3 b - - 0 1", false},
		{"both would leave the rank", "8/8/8/8/k2Pp2Q/8/8/3K4 b - d3 0 1", "8/8/8/8/k2Pp2Q/8/8/3K4 b - - 0 1", true},
		{"the taker is pinned", "4k3/8/8/8/3Pp3/8/4R3/4K3 b - d3 0 1", "4k3/8/8/8/3Pp3/8/4R3/4K3 b - - 0 1", true},
		{"it answers the check", "8/8/8/2k5/3Pp3/8/8/4K3 b - d3 0 1", "8/8/8/2k5/3Pp3/8/8/4K3 b - - 0 1", false},
		{"castling rights", "r3k2r/8/8/8/8/8/8/R3K2R w KQkq - 0 1", "r3k2r/8/8/8/8/8/8/R3K2R w KQk - 0 1", false},
		{"side to move", "4k3/8/8/8/8/8/8/4K3 w - - 0 1", "4k3/8/8/8/8/8/8/4K3 b - - 0 1", false},
		{"counters", "4k3/8/8/8/8/8/8/4K3 w - - 0 1", "4k3/8/8/8/8/8/8/4K3 w - - 9 31", true},
	} {
		a, b := mustFEN(t, c.with), mustFEN(t, c.without)
		if (a.Key() == b.Key()) != c.same {
			t.Errorf("%s: keys %x, %x; want same = %v", c.name, a.Key(), b.Key(), c.same)
		}
	}
}

func FuzzFEN(f *testing.F) {
	for _, c := range perftCases {
		f.Add(c.fen)
	}
	f.Add("8/8/8/8/k2Pp2Q/8/8/3K4 b - d3 0 1")
	f.Fuzz(func(t *testing.T, text string) {
		p, err := ParseSetUp(text)
		if err != nil {
			return
		}
		again, err := ParseSetUp(p.FEN())
		if err != nil || again != p {
			t.Fatalf("%q prints as %q, which reads differently (%v)", text, p.FEN(), err)
		}
		p.Perft(2)
		if again != p {
			t.Fatalf("%q: counting changed the position", text)
		}
	})
}
