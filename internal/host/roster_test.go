// SPDX-License-Identifier: Apache-2.0

package host

import (
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/rig"
	"boardhand/internal/sight"
	"boardhand/internal/table/places"
)

// measured is a reading in which the piece on e2 stands dx metres off centre.
func measured(dx float64) sight.Reading {
	return sight.Reading{State: sight.Same, Offsets: []sight.Offset{{Square: sq("e2"), Delta: frame.Spot[frame.Board]{X: dx}, Sigma: 0.0004}}}
}

// Measurements of a piece that stands still differ from picture to picture by
// less than they are uncertain; the pages are not told of that.
func TestRosterShowsAStandingPieceStandingStill(t *testing.T) {
	r := newRoster(rig.Default(), places.StandingOf(chess.Start()))
	x := func(dx float64) float64 {
		r.measure(measured(dx))
		for _, p := range r.shown() {
			if p.Square == "e2" {
				return p.X
			}
		}
		t.Fatal("no piece on e2")
		return 0
	}
	first := x(0.0010)
	if again := x(0.0012); again != first {
		t.Errorf("moved from %v to %v mm within its uncertainty of 0.4 mm", first, again)
	}
	if far := x(0.0025); far == first {
		t.Errorf("pushed by 1.5 mm, but still shown at %v mm", far)
	}
}

// A piece keeps its name as the hand carries it about.
func TestRosterKnowsAPieceTheHandMoves(t *testing.T) {
	s := places.StandingOf(chess.Start())
	r, h := newRoster(rig.Default(), s), newHand()
	name := func(square string) string {
		for _, p := range r.shown() {
			if p.Square == square {
				return p.ID
			}
		}
		return ""
	}
	rook := name("a1")
	for _, to := range []string{"a5", "c6", "a1"} {
		for _, p := range r.shown() {
			if p.ID == rook {
				if err := h.move(s, sq(p.Square), sq(to)); err != nil {
					t.Fatal(err)
				}
			}
		}
		if r.follow(h.standing(s)); name(to) != rook {
			t.Errorf("the rook that went to %s is called %q, was %q", to, name(to), rook)
		}
	}
}
