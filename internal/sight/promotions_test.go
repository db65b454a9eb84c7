// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"math"
	"slices"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/sight/hypothesis"
	"boardhand/internal/sight/nats"
)

// Several plies that end in other boards do not vouch for one another: a knight and a
// bishop as likely as each other are each half believed.
func TestKindsOfSeveralPliesAreTold(t *testing.T) {
	plies := func(kind chess.Kind) []chess.Move {
		return []chess.Move{chess.MakeMove(49, 57, kind), chess.MakeMove(9, 0, chess.Queen)}
	}
	of := func(kind chess.Kind, belief nats.Probability) (h hypothesis.Hypothesis) {
		h.State, h.Orders = Several, [][]chess.Move{plies(kind)}
		h.After[57] = chess.MakePiece(chess.White, kind)
		h.Belief = belief
		return h
	}
	v := &decision{hypotheses: []hypothesis.Hypothesis{of(chess.Knight, 0.5), of(chess.Bishop, 0.4)}}
	if got := v.belief(Several, 0); math.Abs(got-0.5) > 1e-9 {
		t.Errorf("the knight is believed with %.3f, want 0.5", got)
	}
	on, at := v.hypotheses[0].Promotions()
	if !slices.Equal(on, []chess.Square{57, 0}) || !slices.Equal(at, []int{0, 1}) {
		t.Errorf("promotions on %v by plies %v", on, at)
	}
	h := v.hypotheses[0] // the knight goes on: nothing stands on b8 that is told by its kind
	h.Orders = [][]chess.Move{append(plies(chess.Knight), chess.MakeMove(57, 42, chess.NoKind))}
	if on, _ := h.Promotions(); !slices.Equal(on, []chess.Square{0}) {
		t.Errorf("after the knight has moved on: %v", on)
	}
}
