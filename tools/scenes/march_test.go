// SPDX-License-Identifier: Apache-2.0

package main

import (
	"math"
	"strings"
	"testing"
)

// TestSkinOfABallIsABall cuts one bone out of the grid: closed, and the right
// distance away from its middle.
func TestSkinOfABallIsABall(t *testing.T) {
	f := flesh{palm: []bone{{vec{1, 2, 3}, vec{1, 2, 3}, 20, 20}}}
	low, high := f.box()
	m := marcher{of: f, low: low, corner: map[[2]int]int{}}
	for i := range 3 {
		m.n[i] = int((high[i]-low[i])/pitch) + 2
	}
	m.cutAll()
	edges := map[[2]int]int{}
	for _, t := range m.faces {
		for i := range 3 {
			a, b := t[i], t[(i+1)%3]
			edges[[2]int{min(a, b), max(a, b)}]++
		}
	}
	for e, n := range edges {
		if n != 2 {
			t.Fatalf("edge %v belongs to %d faces: the skin has a hole", e, n)
		}
	}
	for _, p := range m.pts {
		r := math.Sqrt((p[0]-1)*(p[0]-1) + (p[1]-2)*(p[1]-2) + (p[2]-3)*(p[2]-3))
		// The chord of a 4√3 mm edge in a 20 mm ball is 0.3 mm inside it.
		if math.Abs(r-20) > 0.3 {
			t.Fatalf("a corner is %.3f mm from the middle, want 20", r)
		}
	}
	// Euler: a closed surface without handles has V − E + F = 2.
	if x := len(m.pts) - len(edges) + len(m.faces); x != 2 {
		t.Errorf("V - E + F = %d, want 2", x)
	}
	if s := f.skin(); !strings.HasPrefix(s, "mesh2{") {
		t.Errorf("not a mesh: %.40s", s)
	}
}
