// SPDX-License-Identifier: Apache-2.0

package locate

import (
	"image"
	"math"
	"math/rand/v2"
	"testing"

	"boardhand/internal/sight/pixels"
)

// chequer makes the saddles of a lattice seen under a slant, some left out,
// with strays between.
func chequer(rnd *rand.Rand, cols, rows int, missing map[node]bool) (s []saddle, where map[int]node) {
	where = map[int]node{}
	for j := range rows {
		for i := range cols {
			if missing[node{i, j}] {
				continue
			}
			x, y := float64(i), float64(j)
			w := 1 + 0.03*x - 0.02*y
			phase := 0.4 + 0.1*rnd.NormFloat64()
			if (i+j)%2 == 1 {
				phase += math.Pi
			}
			a := 0.2 + math.Pi/4 // edges run at phase/2 + π/4
			where[len(s)] = node{i, j}
			s = append(s, saddle{score: 50, phase: phase,
				x: 100 + (30*(x*math.Cos(a)-y*math.Sin(a)))/w + rnd.NormFloat64()*0.5,
				y: 100 + (30*(x*math.Sin(a)+y*math.Cos(a)))/w + rnd.NormFloat64()*0.5})
		}
	}
	for range 12 {
		s = append(s, saddle{x: 300 * rnd.Float64(), y: 300 * rnd.Float64(), phase: 6 * rnd.Float64(), score: 60})
	}
	return s, where
}

// The largest patch holds half or more of the lattice in spite of strays and
// gaps, and numbers it the same everywhere: two nodes differ by what their true
// places differ, turned.
func TestWeaveNumbersALattice(t *testing.T) {
	for seed := range uint64(20) {
		rnd := rand.New(rand.NewPCG(seed, 5))
		missing := map[node]bool{{2, 2}: true, {4, 1}: true, {0, 0}: true}
		s, where := chequer(rnd, 7, 6, missing)
		p := newLattice(s, 15, 50).patches()[0]
		right, wrong := numbered(p, where)
		if right < 20 || wrong > 1 {
			t.Errorf("seed %d: %d of 39 nodes numbered alike, %d others", seed, right, wrong)
		}
	}
}

// numbered counts the nodes that agree with the commonest turn and shift.
func numbered(p patch, where map[int]node) (right, wrong int) {
	type way struct {
		turn int
		n    node
	}
	count := map[way]int{}
	total := 0
	for n, k := range p {
		w, ok := where[k]
		if !ok {
			wrong++
			continue
		}
		total++
		for turn, q := range [4]node{{n.i, n.j}, {-n.j, n.i}, {-n.i, -n.j}, {n.j, -n.i}} {
			count[way{turn, node{w.i - q.i, w.j - q.j}}]++
		}
	}
	for _, c := range count {
		right = max(right, c)
	}
	return right, wrong + total - right
}

// A drawn corner is found where it is, its phase telling the light fields; an
// edge, a disc and noise give nothing.
func TestFindSaddles(t *testing.T) {
	rnd := rand.New(rand.NewPCG(26, 0))
	for k := range 12 {
		w := wedge{angle: float64(k) * 0.27, mean: 120, contrast: 20, blur: 1, noise: 1.5}
		w.at.X, w.at.Y = 30+rnd.Float64(), 30+rnd.Float64()
		s := findSaddles(pixels.Smoothed(w.draw(60, rnd)))
		if len(s) == 0 {
			t.Fatalf("corner %d not found", k)
		}
		if d := math.Hypot(s[0].x-w.at.X, s[0].y-w.at.Y); d > 0.7 {
			t.Errorf("corner %d found %.2f px off", k, d)
		}
		// Light where i and j have one sign: half way between the edges.
		if off := math.Abs(turn(s[0].phase - 2*(w.angle+math.Pi/4))); off > 0.2 {
			t.Errorf("corner %d: phase %.2f rad off", k, off)
		}
		if off := math.Abs(turn(s[0].edge(s[0].along(w.angle)) - w.angle)); off > 0.1 {
			t.Errorf("corner %d: edge %.2f rad off", k, off)
		}
	}
	flat := wedge{mean: 120, stepAcross: 60, blur: 1, noise: 2, angle: 0.4}
	flat.at.X, flat.at.Y = 30, 30
	if s := findSaddles(pixels.Smoothed(flat.draw(60, rnd))); len(s) > 0 {
		t.Errorf("saddles on an edge: %v", s)
	}
	if s := findSaddles(image.NewGray(image.Rect(0, 0, 9, 9))); s != nil {
		t.Errorf("saddles in a picture smaller than a ring: %v", s)
	}
}
