// SPDX-License-Identifier: Apache-2.0

package inference

import (
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/sight/hypothesis"
	"boardhand/internal/sight/nats"
	"boardhand/internal/sight/scene"
)

// A hypothesis that was found piece by piece and ends at a lawful board takes that one's
// name and prior, less the cost of a nudge; another keeps its own.
func TestLawfulAs(t *testing.T) {
	start := chess.Start()
	board := scene.OccupancyOf(&start)
	same := hypothesis.Hypothesis{State: hypothesis.Same, After: board, Prior: -1}
	found := hypothesis.Hypothesis{State: hypothesis.Illegal, After: board, Prior: -20, Posterior: 30}
	got := LawfulAs(found, []hypothesis.Hypothesis{same})
	if got.State != hypothesis.Same || got.Prior != -1 || got.Posterior != nats.LogPosterior(30+20-1-nudgeCost) {
		t.Errorf("%+v", got)
	}
	found.After[chess.SquareAt(4, 1)] = chess.NoPiece
	if got := LawfulAs(found, []hypothesis.Hypothesis{same}); got.State != hypothesis.Illegal || got.Posterior != 30 {
		t.Errorf("another board: %+v", got)
	}
}
