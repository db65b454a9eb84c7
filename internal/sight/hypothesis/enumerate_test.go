// SPDX-License-Identifier: Apache-2.0

package hypothesis

import (
	"math"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/sight/nats"
	"boardhand/internal/sight/scene"
)

// boards gives the explanations of a position by what they leave standing,
// written as the squares that differ.
func boards(t *testing.T, fen string) map[scene.Occupancy]Hypothesis {
	t.Helper()
	pos, err := chess.ParseFEN(fen)
	if err != nil {
		t.Fatal(err)
	}
	out := map[scene.Occupancy]Hypothesis{}
	for _, g := range Enumerate(&pos, 0) {
		if _, twice := out[g.After]; twice {
			t.Errorf("%s %s explains the same board as another", g.State, g.Move)
		}
		out[g.After] = g
	}
	return out
}

// with returns the board of a position after changes such as "e1-" (taken
// off) and "g1K" (put down).
func with(t *testing.T, fen string, changes ...string) scene.Occupancy {
	t.Helper()
	pos, err := chess.ParseFEN(fen)
	if err != nil {
		t.Fatal(err)
	}
	m := scene.OccupancyOf(&pos)
	for _, c := range changes {
		s := chess.SquareAt(int(c[0]-'a'), int(c[1]-'1'))
		m[s] = chess.NoPiece
		for p := range chess.Piece(16) {
			if p.Kind() != chess.NoKind && p.Kind() <= chess.King && p.Letter() == c[2] {
				m[s] = p
			}
		}
	}
	return m
}

// TestHalfDone: what hands do on the way to a move is partial; the finished
// move is the move; what no rule explains is not in the list.
func TestHalfDone(t *testing.T) {
	const (
		castle  = "4k3/8/8/8/8/8/8/4K2R w K - 0 1"
		passant = "4k3/8/8/3pP3/8/8/8/4K3 w - d6 0 1"
		promote = "4k3/P7/8/8/8/8/8/4K3 w - - 0 1"
		capture = "4k3/8/8/3p4/4P3/8/8/4K3 w - - 0 1"
	)
	for _, c := range []struct {
		name, fen string
		changes   []string
		state     State
		move      string
	}{
		{"nothing", castle, nil, Same, "0000"},
		{"castled", castle, []string{"e1-", "g1K", "h1-", "f1R"}, Moved, "e1g1"},
		{"king first", castle, []string{"e1-", "g1K"}, Partial, "e1g1"},
		{"both in the hands", castle, []string{"e1-", "h1-"}, Partial, "e1g1"},
		{"rook first is a rook's move", castle, []string{"h1-", "f1R"}, Moved, "h1f1"},
		{"taken in passing", passant, []string{"e5-", "d6P", "d5-"}, Moved, "e5d6"},
		{"the taken pawn still stands", passant, []string{"e5-", "d6P"}, Partial, "e5d6"},
		{"only the taken pawn gone", passant, []string{"d5-"}, Partial, "e5d6"},
		{"promoted", promote, []string{"a7-", "a8Q"}, Moved, "a7a8q"},
		{"a knight", promote, []string{"a7-", "a8N"}, Moved, "a7a8n"},
		{"pawn not yet exchanged", promote, []string{"a7-", "a8P"}, Partial, "a7a8q"},
		{"captured", capture, []string{"e4-", "d5P"}, Moved, "e4d5"},
		{"captured piece off, mover at home", capture, []string{"d5-"}, Partial, "e4d5"},
		{"both off", capture, []string{"d5-", "e4-"}, Partial, "e4d5"},
		{"lifted", capture, []string{"e4-"}, Partial, "e4d5"},
		{"sideways", capture, []string{"e4-", "f4P"}, "", ""},
		{"two steps after the first", capture, []string{"e4-", "e6P"}, "", ""},
	} {
		g, ok := boards(t, c.fen)[with(t, c.fen, c.changes...)]
		if c.state == "" {
			if ok {
				t.Errorf("%s: explained by %s %s", c.name, g.State, g.Move)
			}
			continue
		}
		same := g.Move.String() == c.move || c.state == Partial
		if !ok || g.State != c.state || !same {
			t.Errorf("%s: got %s %s, want %s %s", c.name, g.State, g.Move, c.state, c.move)
		}
	}
}

// TestEveryMoveOnce: as many finished moves as the rules allow.
func TestEveryMoveOnce(t *testing.T) {
	for _, fen := range []string{
		"rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1",
		"r3k2r/p1ppqpb1/bn2pnp1/3PN3/1p2P3/2N2Q1p/PPPBBPPP/R3K2R w KQkq - 0 1",
	} {
		pos, err := chess.ParseFEN(fen)
		if err != nil {
			t.Fatal(err)
		}
		moved := 0
		for _, g := range boards(t, fen) {
			if g.State == Moved {
				moved++
			}
		}
		if want := len(pos.LegalMoves(nil)); moved != want {
			t.Errorf("%s: %d finished moves, the rules allow %d", fen, moved, want)
		}
	}
}

// TestExpectedKind: the kind that somebody was asked to put down is the
// likeliest of a pawn's, and the shares of the four add up.
func TestExpectedKind(t *testing.T) {
	pos, err := chess.ParseFEN("4k3/8/8/8/8/8/3p4/4RK2 b - - 0 1")
	if err != nil {
		t.Fatal(err)
	}
	for expected, want := range map[string]string{"": "d2e1q", "d2e1n": "d2e1n", "e8d8": "d2e1q"} {
		m := chess.Move(0)
		if expected != "" {
			if m, err = pos.ParseUCI(expected); err != nil {
				t.Fatal(err)
			}
		}
		best, sum := Hypothesis{Prior: nats.Impossible[nats.LogPrior]()}, 0.0
		for _, g := range Enumerate(&pos, m) {
			if g.State != Moved || g.Move.String()[:4] != "d2e1" {
				continue
			}
			if sum += math.Exp(float64(g.Prior)); g.Prior > best.Prior {
				best = g
			}
		}
		legal := float64(len(pos.LegalMoves(nil)))
		if best.Move.String() != want || math.Abs(sum-4*priorMoves/legal) > 1e-9 {
			t.Errorf("expecting %q: %s is the likeliest, all four have %g; want %s, %g", expected, best.Move, sum, want, 4*priorMoves/legal)
		}
	}
}
