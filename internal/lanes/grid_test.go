// SPDX-License-Identifier: Apache-2.0

package lanes

import (
	"math"
	"os"
	"testing"
)

// This file is the reference: a flood over a fine grid. It knows nothing of
// tangents, and finds a way whenever one is at least a grid step wide.

// flood says whether a point can get from one spot to another over grid places
// that are clear, by steps whose whole length is clear.
func flood(f Field, from, to Spot, step float64) bool {
	in := f.Inside.With(from).With(to)
	nx, ny := int((in.Max.X-in.Min.X)/step)+1, int((in.Max.Y-in.Min.Y)/step)+1
	at := func(i, j int) Spot { return Spot{X: in.Min.X + float64(i)*step, Y: in.Min.Y + float64(j)*step} }
	// A step between two places r clear of everything is clear as a whole when
	// r is at least what a chord of that length may cut off.
	seen := make([]bool, nx*ny)
	for _, h := range f.Obstacles {
		keep := math.Min(h.Keep, math.Min(h.At.Distance(from), h.At.Distance(to))) + step*step/(8*0.005)
		for i := max(0, int((h.At.X-keep-in.Min.X)/step)); i < nx && at(i, 0).X <= h.At.X+keep; i++ {
			for j := max(0, int((h.At.Y-keep-in.Min.Y)/step)); j < ny && at(0, j).Y <= h.At.Y+keep; j++ {
				seen[i*ny+j] = seen[i*ny+j] || h.At.Distance(at(i, j)) < keep
			}
		}
	}
	var open []int
	push := func(i, j int) {
		if i < 0 || j < 0 || i >= nx || j >= ny || seen[i*ny+j] {
			return
		}
		seen[i*ny+j] = true
		open = append(open, i*ny+j)
	}
	enter := func(s Spot, visit func(i, j int)) {
		i, j := int((s.X-in.Min.X)/step), int((s.Y-in.Min.Y)/step)
		for di := -1; di <= 2; di++ {
			for dj := -1; dj <= 2; dj++ {
				if i+di >= 0 && j+dj >= 0 && i+di < nx && j+dj < ny && reaches(f, s, at(i+di, j+dj), from, to) {
					visit(i+di, j+dj)
				}
			}
		}
	}
	goal := map[int]bool{}
	enter(to, func(i, j int) { goal[i*ny+j] = true })
	enter(from, push)
	for len(open) > 0 {
		k := open[len(open)-1]
		open = open[:len(open)-1]
		if goal[k] {
			return true
		}
		i, j := k/ny, k%ny
		push(i+1, j)
		push(i-1, j)
		push(i, j+1)
		push(i, j-1)
	}
	return false
}

// reaches says by walking whether the straight piece from a to b is clear.
func reaches(f Field, a, b, from, to Spot) bool {
	for k := range 21 {
		t := float64(k) / 20
		s := Spot{X: a.X + t*(b.X-a.X), Y: a.Y + t*(b.Y-a.Y)}
		for _, h := range f.Obstacles {
			keep := math.Min(h.Keep, math.Min(h.At.Distance(from), h.At.Distance(to)))
			if h.At.Distance(s) < keep-1e-9 {
				return false
			}
		}
	}
	return true
}

// Whatever the grid finds, the tangents find; where the grid finds nothing the
// tangents may, by less than a grid step.
func TestSolvesWhateverAFineGridSolves(t *testing.T) {
	rnd := seeded(t, 3)
	step, n := square/32, 40
	if os.Getenv("BOARDHAND_LONG") == "1" {
		step, n = square/80, 1000
	}
	for _, base := range []float64{0.45, 0.60, 0.75} {
		both, only, none := 0, 0, 0
		for range n {
			f, from, to := crowd(rnd, 24+rnd.IntN(30), base, 0.12)
			_, ours := f.Shortest(from, to)
			grid := flood(f, from, to, step)
			switch {
			case grid && !ours:
				t.Fatalf("base %.2f: the grid finds a way from %v to %v among %v, the tangents none", base, from, to, f.Obstacles)
			case grid:
				both++
			case ours:
				only++
			default:
				none++
			}
		}
		t.Logf("base %.2f: both %d, only the tangents %d, neither %d", base, both, only, none)
	}
}
