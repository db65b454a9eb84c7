// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"context"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/photo"
	"boardhand/internal/rig"
)

// TestStraightened: pairs of pictures of careless guests' games on the twin. Between
// the two somebody moved, and set another light piece on a light square straight
// by a quarter of a square (bishop, king), or a light piece on a dark one by a tenth
// (pawn), or the piece that moved throws a shadow that looks like a piece (shadow). A light piece taken off a light square (rook) is
// gone all the same: read with the other side to move, when no rule has it go.
func TestStraightened(t *testing.T) {
	cases := []struct {
		name, fen string
		state     State
		move      string
		squares   string
		at        chess.Square // of a piece that was set straight
	}{
		{"bishop", "r3kb1r/pp3pp1/B1n4p/3pq3/4n3/8/PPP2P1P/R1BK3R b kq - 1 12", Moved, "e5d4", "d4 e5", chess.SquareAt(0, 5)},
		{"king", "2rqk2r/pp1n1p1p/7p/1B1p4/Pb1P1P2/5N2/1P3KPP/3b1R2 w k - 0 17", Moved, "f1d1", "d1 f1", chess.SquareAt(5, 1)},
		{"pawn", "r1bqk1nr/ppp1bppp/2n5/3pp1P1/8/2P4N/PP1PPP1P/RNBQKB1R w KQkq - 1 5", Moved, "b2b4", "b2 b4", chess.SquareAt(5, 1)},
		{"shadow", "r3kb1r/pp3pp1/B1n4p/3p4/3qn3/8/PPP2P1P/R1BK3R w kq - 2 13", Moved, "d1e1", "d1 e1", chess.NoSquare},
		{"rook", "r1b1kb1r/ppp1pppp/2n5/3q4/3P2n1/1N6/PPP1PP1P/R1BQK1NR w KQkq - 1 6", Illegal, "0000", "h1", chess.NoSquare},
	}
	setup, err := SetupFrom(rig.Default())
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			pos, err := chess.ParseFEN(c.fen)
			if err != nil {
				t.Fatal(err)
			}
			r := NewReader(setup)
			r.Begin(pos)
			if got := shown(t, r, c.name+"-1.jpg"); got.State != Same {
				t.Fatalf("the position is read as %s %v", got.State, got.Squares)
			}
			got := shown(t, r, c.name+"-2.jpg")
			if got.State != c.state || got.Move.String() != c.move || inWords(got.Squares) != c.squares {
				t.Fatalf("read %s %s %v, want %s %s %s\n%s", got.State, got.Move, got.Squares, c.state, c.move, c.squares, r.Explain())
			}
			if c.at == chess.NoSquare {
				return
			}
			k := slices.IndexFunc(got.Offsets, func(o Offset) bool { return o.Square == c.at })
			if o := got.Offsets[k]; o.Delta.Norm() > min(0.06*setup.Square, 3*o.Sigma) {
				t.Errorf("on %s it is measured %.1f mm off the middle, where it was set, σ %.1f mm", c.at, 1e3*o.Delta.Norm(), 1e3*o.Sigma)
			}
		})
	}
}

// shown reads a picture of testdata/touched.
func shown(t *testing.T, r *Reader, name string) Reading {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("testdata", "touched", name))
	if err != nil {
		t.Fatal(err)
	}
	got, err := r.Read(context.Background(), photo.Picture{Name: name, JPEG: data})
	if err != nil {
		t.Fatal(err)
	}
	return got
}

func inWords(squares []chess.Square) string {
	var out []string
	for _, s := range squares {
		out = append(out, s.String())
	}
	return strings.Join(out, " ")
}
