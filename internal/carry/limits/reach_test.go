// SPDX-License-Identifier: Apache-2.0

package limits

import (
	"math"
	"testing"

	"boardhand/internal/rig"
)

// Bases may stand on the field, as far as the border holds them beside it.
func TestSheetFollowsTheField(t *testing.T) {
	r := rig.Default()
	r.Board.Files, r.Board.Ranks, r.Board.Border = 5, 6, 0.02
	s, wide := sheet(r), 0.02-float64(r.Pieces.Widest())/2
	if math.Abs(s.Max.X-0.1-wide) > 1e-12 || math.Abs(s.Max.Y-0.12-wide) > 1e-12 || s.Min.Add(s.Max).Norm() > 1e-12 {
		t.Errorf("%v", s)
	}
}
