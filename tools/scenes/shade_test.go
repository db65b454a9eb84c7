// SPDX-License-Identifier: Apache-2.0

package main

import (
	"math"
	"testing"
)

// TestClearanceOfABall: a line's distance from a ball, and where it is least.
func TestClearanceOfABall(t *testing.T) {
	ball := capsule{vec{0, 30, 50}, vec{0, 30, 50}, 10, 10}
	if gap, at := clearance(ball, vec{0, 0, 0}, vec{0, 0, 100}); math.Abs(gap-20) > 1e-9 || math.Abs(at-0.5) > 1e-9 {
		t.Errorf("%g at %g, want 20 at 0.5", gap, at)
	}
	rod := capsule{vec{-50, 8, 40}, vec{50, 8, 40}, 5, 5}
	if gap, at := clearance(rod, vec{0, 0, 0}, vec{0, 0, 100}); math.Abs(gap-3) > 1e-9 || math.Abs(at-0.4) > 1e-9 {
		t.Errorf("%g at %g, want 3 at 0.4", gap, at)
	}
}

// TestPenumbraOfAnEdge: across the edge of a broad body's shadow the visible
// share of a disc is that of a disc cut by a line.
func TestPenumbraOfAnEdge(t *testing.T) {
	l := lamp{at: vec{0, 0, 1000}, size: 200, distance: 1000}
	points := l.points()
	// A rod whose edge is over x = 0, so broad that the edge is straight.
	wall := []capsule{{vec{-2000, -9000, 500}, vec{-2000, 9000, 500}, 2000, 2000}}
	for _, x := range []float64{-90, -50, -20, 0, 20, 50, 90} {
		// Seen from x, the edge cuts the lamp's disc at -x.
		h := math.Max(-100, math.Min(100, x)) / 100
		want := (math.Acos(-h) + h*math.Sqrt(1-h*h)) / math.Pi
		if got := l.visible(&points, vec{x, 0, 0}, wall); math.Abs(got-want) > 0.04 {
			t.Errorf("at %g mm %.3f of the lamp is seen, want %.3f", x, got, want)
		}
	}
}

// TestShadeMapIsLinear: between the grid's places the map is linear in each
// direction.
func TestShadeMapIsLinear(t *testing.T) {
	s := session{square: 30, border: 10, thick: 20}
	m := s.newShadeMap(func(p vec) float64 { return 0.5 + p[0]/2000 - p[1]/3000 + p[2]/1000 })
	for _, p := range []vec{{0, 0, 0}, {37, -81, 12}, {-111, 99, 60}} {
		want := 0.5 + p[0]/2000 - p[1]/3000 + p[2]/1000
		if got := m.at(p); math.Abs(got-want) > 1e-4 {
			t.Errorf("%v: %.4f, want %.4f", p, got, want)
		}
	}
	edge := func(p vec) float64 { return clamp(0.5 + (p[0]-3)/2) }
	if m = s.newShadeMap(edge); m.at(vec{5, 0, 0}) > 0.95 {
		t.Error("the grid resolves an edge of 2 mm: the next check checks nothing")
	}
	if m.exact = edge; m.at(vec{5, 0, 0}) != 1 || m.at(vec{3, 0, 0}) != 0.5 {
		t.Error("a fine edge is not where it is")
	}
	if (*shadeMap)(nil).at(vec{}) != 1 {
		t.Error("no map leaves not all light")
	}
}

// TestPersonShadesAbout: people are found who shade about what is wanted.
func TestPersonShadesAbout(t *testing.T) {
	name := "roomt01"
	d := diceFor(name)
	s, err := newSession(d, name)
	if err != nil {
		t.Fatal(err)
	}
	l := s.light.key[0]
	points := l.points()
	for _, wanted := range []float64{0.35, 0.6} {
		people := s.leanIn(d, l, wanted)
		sum := 0.0
		for i := range 256 {
			x, y := (float64(i%16)-7.5)/2*s.square, (float64(i/16)-7.5)/2*s.square
			sum += 1 - l.visible(&points, vec{x, y, 0}, people)
		}
		if share := sum / 256; math.Abs(share-wanted) > 0.15 {
			t.Errorf("%.2f of the board is shaded, want about %.2f", share, wanted)
		}
	}
}
