// SPDX-License-Identifier: Apache-2.0

package lanes

import (
	"math"
	"testing"
)

// Between two pieces the way keeps to the middle of the gap although a shorter
// one would shave the nearer piece.
func TestBestTakesTheMiddleOfTheGap(t *testing.T) {
	f := Field{Inside: board(), Favoured: board(), Obstacles: []Obstacle{
		{At: centre(3, 4), Keep: 0.0150}, {At: centre(4, 4), Keep: 0.0110},
		{At: centre(2, 4), Keep: 0.0150}, {At: centre(5, 4), Keep: 0.0150},
	}}
	w, ok := f.Best(centre(3, 3), centre(4, 5), Taste{Room: 0.003, Longer: 0.1})
	if !ok {
		t.Fatal("no way")
	}
	s, _ := f.Shortest(centre(3, 3), centre(4, 5))
	if w.Spare < 0.0010 || s.Spare > 0.0005 {
		t.Errorf("spare %.2f mm, the shortest has %.2f mm", w.Spare*1e3, s.Spare*1e3)
	}
}

// Round a piece on the last rank there are two like ways: the inner one is taken.
func TestBestKeepsOffTheRim(t *testing.T) {
	rim := board().Inset(0.3 * square)
	for _, y := range []float64{3.5, -3.5} {
		f := Field{Inside: board(), Favoured: rim, Obstacles: []Obstacle{{At: Spot{X: 0, Y: y * square}, Keep: 0.016}}}
		w, ok := f.Best(Spot{X: -square, Y: y * square}, Spot{X: square, Y: y * square}, Taste{Room: 0.003, Longer: 0.1})
		if !ok || w.Rim > 0 {
			t.Errorf("way %v found %v, %.1f mm of it along the rim", w.Points, ok, w.Rim*1e3)
		}
	}
}

// A common tangent touches both circles, on the sides asked for.
func TestTangentTouchesBoth(t *testing.T) {
	rnd := seeded(t, 5)
	for range 1000 {
		p := circle{c: Spot{X: rnd.Float64(), Y: rnd.Float64()}, r: 0.2 * rnd.Float64()}
		q := circle{c: Spot{X: rnd.Float64(), Y: rnd.Float64()}, r: 0.2 * rnd.Float64()}
		for _, sp := range []float64{1, -1} {
			for _, sq := range []float64{1, -1} {
				s, ok := tangent(p, q, sp, sq)
				if exists := p.c.Distance(q.c) > math.Abs(sq*q.r-sp*p.r); ok != exists {
					t.Fatalf("tangent %v, want %v", ok, exists)
				}
				if !ok {
					continue
				}
				for _, k := range []struct {
					c    circle
					at   Spot
					side float64
				}{{p, s.a, sp}, {q, s.b, sq}} {
					u, v := s.b.Sub(s.a), k.c.c.Sub(k.at)
					left := (u.X*v.Y - u.Y*v.X) / u.Norm() // of the centre
					if math.Abs(left-k.side*k.c.r) > 1e-9 || math.Abs(u.Dot(v)) > 1e-9 {
						t.Fatalf("centre %g to the left, want %g", left, k.side*k.c.r)
					}
				}
			}
		}
	}
}

// The stretch of a circle inside another, and outside a rectangle, against
// walking round it.
func TestSpansAgainstWalking(t *testing.T) {
	rnd := seeded(t, 6)
	in := Rect{Min: Spot{}, Max: Spot{X: 1, Y: 1}}
	for range 300 {
		cs := []circle{
			{c: Spot{X: rnd.Float64(), Y: rnd.Float64()}, r: 0.02 + 0.3*rnd.Float64()},
			{c: Spot{X: rnd.Float64(), Y: rnd.Float64()}, r: 0.02 + 0.3*rnd.Float64()},
		}
		spans, ok := spansOf(cs, 0, in)
		free := 0
		for k := range 720 {
			a := float64(k) * math.Pi / 360
			sin, cos := math.Sincos(a)
			p := Spot{X: cs[0].c.X + cs[0].r*cos, Y: cs[0].c.Y + cs[0].r*sin}
			want := !in.Holds(p) || p.Distance(cs[1].c) < cs[1].r
			got, edge := false, false
			for _, s := range spans {
				off := math.Abs(math.Remainder(a-s.mid, 2*math.Pi))
				got = got || off < s.half
				edge = edge || math.Abs(off-s.half) < 1e-6
			}
			if !want {
				free++
			}
			if ok && got != want && !edge {
				t.Fatalf("at %g rad: blocked %v, walking says %v", a, got, want)
			}
		}
		if !ok && free > 0 {
			t.Fatalf("the circle counts as lost but %d of 720 places are free", free)
		}
	}
}
