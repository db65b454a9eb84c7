// SPDX-License-Identifier: Apache-2.0

package web

import (
	"math"
	"math/rand/v2"
	"testing"
)

// inOutline allows for the chords of the drawn circles and the rounding to a
// tenth, mm.
const inOutline = 0.35

// reach is how far the outline goes from p in direction a, mm: the largest
// projection of its corners.
func reach(points []Place, p Place, a float64) float64 {
	far := math.Inf(-1)
	for _, q := range points {
		far = max(far, (q[0]-p[0])*math.Cos(a)+(q[1]-p[1])*math.Sin(a))
	}
	return far
}

// Straight under the camera nothing leans: the outline is the base, or the
// nearer, hence larger, head.
func TestNoLeanUnderTheCamera(t *testing.T) {
	l := lean(Piece{X: 10, Y: -20}, 16, 50, Camera{10, -20, 600})
	for a := 0.0; a < 6; a += 0.5 {
		if got := reach(l, Place{10, -20}, a); math.Abs(got-8) > inOutline {
			t.Errorf("direction %.1f: %.2f mm, want the base's 8", a, got)
		}
	}
}

// A piece 100 mm aside of a camera 600 mm up, 50 mm high: by similar triangles
// its axis ends 100·50/550 = 9.09 mm farther out, its head has radius
// 8·½·600/550 = 4.36 mm, so it reaches 13.45 mm outwards and its base 8 mm in.
func TestLeanByHand(t *testing.T) {
	l := lean(Piece{X: 100}, 16, 50, Camera{0, 0, 600})
	out, in := reach(l, Place{100, 0}, 0), reach(l, Place{100, 0}, math.Pi)
	if math.Abs(out-13.45) > inOutline || math.Abs(in-8) > inOutline {
		t.Errorf("outwards %.2f, inwards %.2f mm; want 13.45 and 8", out, in)
	}
}

// Another route: rays from the camera through points of the cone meet the
// board inside the outline, and some of them near its edge.
func TestLeanAgainstRays(t *testing.T) {
	const seed = 7
	r := rand.New(rand.NewPCG(seed, seed))
	m, c, base, height := Piece{X: -70, Y: 90}, Camera{15, -30, 450}, 15.0, 52.0
	l := lean(m, base, height, c)
	for _, a := range []float64{0, 1, 2, 3, 4, 5} {
		far := math.Inf(-1)
		for range 20000 {
			z := height * r.Float64()
			radius := base / 2 * (1 - (1-headShare)*z/height)
			phi := 2 * math.Pi * r.Float64()
			x, y := m.X+radius*math.Cos(phi), m.Y+radius*math.Sin(phi)
			k := c.Z / (c.Z - z)
			x, y = c.X+k*(x-c.X), c.Y+k*(y-c.Y)
			far = max(far, (x-m.X)*math.Cos(a)+(y-m.Y)*math.Sin(a))
		}
		if got := reach(l, Place{m.X, m.Y}, a); math.Abs(got-far) > inOutline {
			t.Errorf("seed %d, direction %v: outline %.2f, rays %.2f mm", seed, a, got, far)
		}
	}
}

func TestLeansComeByThemselves(t *testing.T) {
	s := New(nil)
	s.Publish(Event{Machine: specimenMachine(), FEN: specimenStart})
	if len(s.state.Lean) != 0 {
		t.Error("lean without a camera")
	}
	s.Publish(Event{Camera: &Camera{0, 0, 600}})
	if got := len(s.state.Lean); got != 32 {
		t.Errorf("%d outlines, want one for each of 32 pieces", got)
	}
	s.Publish(Event{FEN: specimenLate})
	if got := len(s.state.Lean); got != 5 {
		t.Errorf("%d outlines, want 5", got)
	}
}
