// SPDX-License-Identifier: Apache-2.0

package hypothesis

import (
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/sight/scene"
)

// after is the hypothesis of some plies, in UCI form, from a position.
func after(t *testing.T, fen string, plies ...string) *Hypothesis {
	t.Helper()
	pos, err := chess.ParseFEN(fen)
	if err != nil {
		t.Fatal(err)
	}
	g := &Hypothesis{State: Several, Orders: [][]chess.Move{nil}}
	for _, text := range plies {
		m, err := pos.ParseUCI(text)
		if err != nil {
			t.Fatal(err)
		}
		g.Orders[0] = append(g.Orders[0], m)
		pos = pos.After(m)
	}
	if g.After = scene.OccupancyOf(&pos); len(plies) == 1 {
		g.State, g.Move = Moved, g.Orders[0][0]
	}
	return g
}

// Hypotheses are kin that differ in nothing but the kinds of promoted pieces, also of those
// that went on; a piece taken by another is of no matter.
func TestKin(t *testing.T) {
	const fen = "8/1P5k/8/8/8/8/7p/K7 w - - 0 1"
	knight, bishop := after(t, fen, "b7b8n"), after(t, fen, "b7b8b")
	if knight.Kin() != bishop.Kin() {
		t.Error("a pawn promoted to a knight and to a bishop are no kin")
	}
	if rook := after(t, fen, "b7b8r", "h2h1q"); rook.Kin() == knight.Kin() || rook.Kin() != after(t, fen, "b7b8q", "h2h1n").Kin() {
		t.Error("two promotions are kin of one, or no kin of two")
	}
	queen, other := after(t, fen, "b7b8q", "h7h6", "b8b1"), after(t, fen, "b7b8r", "h7h6", "b8b1")
	if queen.Kin() != other.Kin() || queen.Kin() == queen.After {
		t.Error("a promoted piece that went on is told by its kind")
	}
	if quiet := after(t, fen, "a1a2"); quiet.Kin() != quiet.After {
		t.Error("a move without a promotion has another kin than its board")
	}
	taken := after(t, "2k5/8/8/8/8/8/1p6/R3K3 b - - 0 1", "b2b1n", "a1b1")
	if taken.Kin() != taken.After {
		t.Error("who took a promoted piece is taken for promoted")
	}
}
