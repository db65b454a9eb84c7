// SPDX-License-Identifier: Apache-2.0

package session

import (
	"testing"

	"boardhand/internal/rig"
	"boardhand/internal/sight"
)

// No piece on a square of its own colour becomes a queen because pawns mostly do: what a picture
// does not tell is asked.
func TestNoQueenByHabit(t *testing.T) {
	r := rig.Default()
	told := 0
	for _, seed := range []int64{146, 147, 148} {
		for _, kind := range []string{"n", "b", "r", "q"} {
			s := newStill(t, r, "4k3/P5pp/8/8/8/8/1p3PPP/4K2R w K - 0 30", seed)
			pos := s.Eye.Position()
			m, err := pos.ParseUCI("a7a8" + kind)
			if err != nil {
				t.Fatal(err)
			}
			after := pos.After(m)
			if err := s.World.Visitor().Arrange(after.FEN()); err != nil {
				t.Fatal(err)
			}
			s.World.Visitor().Finish()
			got, err := s.Eye.Read(t.Context(), s.look())
			if err != nil || got.State != sight.Unsure && got.Move != m {
				t.Errorf("seed %d, %v: %s %v at %.3f (%v)", seed, m, got.State, got.Move, got.Belief, err)
			}
			if got.State == sight.Moved {
				told++
			}
		}
	}
	if told < 3 {
		t.Errorf("%d of 12 are told", told)
	}
}
