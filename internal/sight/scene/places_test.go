// SPDX-License-Identifier: Apache-2.0

package scene

import (
	"math"
	"slices"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
)

// square50 is a board with squares of 50 mm and a margin of 20 mm.
var square50 = Setup{Square: 0.05, Border: 0.02}

// Places by hand: e4 lies from 0 to 50 mm along the ranks and −50 to 0 along the files.
func TestPlaces(t *testing.T) {
	e4 := chess.SquareAt(4, 3)
	if at := square50.Centre(e4); math.Abs(at.X-0.025) > 1e-12 || math.Abs(at.Y+0.025) > 1e-12 {
		t.Errorf("e4 is centred at %v", at)
	}
	for _, c := range []struct {
		at     frame.Spot[frame.Board]
		square chess.Square
		aside  float64 // of e4
		beside []chess.Square
	}{
		{frame.Spot[frame.Board]{X: 0.025, Y: -0.025}, e4, 0, nil},
		{frame.Spot[frame.Board]{X: 0.045, Y: -0.025}, e4, 0.4, []chess.Square{chess.SquareAt(5, 3)}},
		{frame.Spot[frame.Board]{X: 0.025, Y: -0.001}, e4, 0.48, []chess.Square{chess.SquareAt(4, 4)}},
		{frame.Spot[frame.Board]{X: 0.005, Y: -0.045}, e4, 0.4, []chess.Square{chess.SquareAt(3, 3), chess.SquareAt(4, 2)}},
		{frame.Spot[frame.Board]{X: 0.051, Y: -0.025}, chess.SquareAt(5, 3), 0.52, []chess.Square{chess.SquareAt(5, 3)}},
		{frame.Spot[frame.Board]{X: 0.9, Y: -0.9}, chess.SquareAt(7, 0), 17.5, []chess.Square{chess.SquareAt(5, 3), chess.SquareAt(4, 2)}},
	} {
		if got := square50.SquareAt(c.at); got != c.square {
			t.Errorf("%v lies on %v, want %v", c.at, got, c.square)
		}
		if got := square50.Aside(e4, c.at); math.Abs(got-c.aside) > 1e-9 {
			t.Errorf("%v is %g aside of e4, want %g", c.at, got, c.aside)
		}
		if got := square50.Besides(e4, c.at); !slices.Equal(got, c.beside) {
			t.Errorf("a piece of e4 at %v reaches over the lines to %v, want %v", c.at, got, c.beside)
		}
	}
}

// At a slot a piece counts within its half of the way to the next slot, elsewhere
// within its square.
func TestReachAt(t *testing.T) {
	s := square50
	s.Slots = []frame.Spot[frame.Board]{{X: 0.3}, {X: 0.3, Y: 0.03}}
	if got := s.ReachAt(s.Slots[0]); math.Abs(got-InPlace*0.03) > 1e-12 {
		t.Errorf("at a slot 30 mm from the next: %g", got)
	}
	if got := s.ReachAt(frame.Spot[frame.Board]{}); math.Abs(got-InPlace*0.05) > 1e-12 {
		t.Errorf("on the field: %g", got)
	}
}

// The squares that two boards differ on, and lists of squares merged.
func TestDiffering(t *testing.T) {
	start := chess.Start()
	a := OccupancyOf(&start)
	b := a
	e2, e4 := chess.SquareAt(4, 1), chess.SquareAt(4, 3)
	b[e2], b[e4] = chess.NoPiece, a[e2]
	if got := Differing(a, b); !slices.Equal(got, []chess.Square{e2, e4}) {
		t.Errorf("after 1 e4: %v", got)
	}
	if got := Merge([]chess.Square{e4, e2}, []chess.Square{e2}); !slices.Equal(got, []chess.Square{e2, e4}) {
		t.Errorf("merged: %v", got)
	}
}
