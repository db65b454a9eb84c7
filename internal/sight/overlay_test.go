// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"context"
	"image"
	"math"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
)

// TestOverlay: the copy is enlarged so far that a place can be written in a
// square; the lattice lies on the squares' corners, and a square that differs is
// framed, no other.
func TestOverlay(t *testing.T) {
	s := game(t)
	r := NewReader(s.setup)
	r.Begin(s.start)
	if _, err := r.Read(context.Background(), s.picture(t, 0)); err != nil {
		t.Fatal(err)
	}
	differs := chess.SquareAt(3, 3)
	drawn, err := r.Overlay(s.picture(t, 0), Reading{State: Partial, Belief: 0.9, Squares: []chess.Square{differs}})
	if err != nil {
		t.Fatal(err)
	}
	v, _ := r.View()
	zoom := drawn.Bounds().Dx() / s.setup.Image[0]
	k, err := v.PixelsPerMM(frame.Spot[frame.Board]{}, 0)
	if side := float64(zoom) * k * s.setup.Square * 1e3; err != nil || side < 90 && zoom < 3 || drawn.Bounds().Dy() != zoom*s.setup.Image[1] {
		t.Errorf("enlarged %d times to %v a square is %.0f pixels wide (%v)", zoom, drawn.Bounds(), side, err)
	}
	near := func(x, y float64, ink func(image.Image, int, int) bool) bool {
		px, _ := v.Project(frame.Spot[frame.Board]{X: x, Y: y}.At(0))
		for dy := -2; dy <= 2; dy++ {
			for dx := -2; dx <= 2; dx++ {
				if ink(drawn, int(math.Round(float64(zoom)*(px.X+0.5)-0.5))+dx, int(math.Round(float64(zoom)*(px.Y+0.5)-0.5))+dy) {
					return true
				}
			}
		}
		return false
	}
	blue := func(m image.Image, x, y int) bool { return m.At(x, y) == inkLattice }
	signal := func(m image.Image, x, y int) bool { return m.At(x, y) == inkSignal }
	for i := -4.0; i <= 4; i++ {
		if !near(i*s.setup.Square, 0, blue) && !near(i*s.setup.Square, 0.5*s.setup.Square, blue) {
			t.Errorf("the lattice's line %v is not drawn where it lies", i)
		}
	}
	for q := range chess.NoSquare {
		c := s.setup.Centre(q)
		if got := near(c.X-0.46*s.setup.Square, c.Y+0.1*s.setup.Square, signal); got != (q == differs) {
			t.Errorf("%v framed: %v", q, got)
		}
	}
}
