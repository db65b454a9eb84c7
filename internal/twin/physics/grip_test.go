// SPDX-License-Identifier: Apache-2.0

package physics

import (
	"testing"

	"boardhand/internal/rig"
)

// A piece which the hand sets straight while the carriage travels was not dragged
// by it; one who slid by himself was.
func TestHandDuringAStrokeIsNoDrag(t *testing.T) {
	w := tableOf(t, rig.Default(), kings)
	w.BeginStroke()
	b := w.Pieces[0]
	b.At = b.At.Add(spot{X: 0.005})
	w.Stand(b)
	w.EndStroke()
	if n := w.count(Dragged); n != 0 {
		t.Errorf("%d drags: the hand moved it", n)
	}
	w.BeginStroke()
	w.Stand(b)
	b.At = b.At.Add(spot{X: 0.002})
	w.EndStroke()
	if n := w.count(Dragged); n != 1 {
		t.Errorf("%d drags of the piece that moved after the hand had left it, want 1", n)
	}
}
