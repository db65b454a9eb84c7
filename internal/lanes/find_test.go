// SPDX-License-Identifier: Apache-2.0

package lanes

import (
	"math"
	"math/rand/v2"
	"testing"
)

// square is the side used in tests, metres.
const square = 0.032

func centre(f, r int) Spot {
	return Spot{X: (float64(f) - 3.5) * square, Y: (float64(r) - 3.5) * square}
}

func board() Rect {
	return Rect{Min: Spot{X: -4.3 * square, Y: -4.3 * square}, Max: Spot{X: 4.3 * square, Y: 4.3 * square}}
}

// crowd scatters n pieces on the squares with offsets up to the given share, and
// returns a field for one more base of the same size with its start and end.
func crowd(rnd *rand.Rand, n int, base, offset float64) (Field, Spot, Spot) {
	squares := rnd.Perm(64)
	place := func(sq int) Spot {
		a, d := rnd.Float64()*2*math.Pi, offset*square*math.Sqrt(rnd.Float64())
		c := centre(sq%8, sq/8)
		return Spot{X: c.X + d*math.Cos(a), Y: c.Y + d*math.Sin(a)}
	}
	f := Field{Inside: board(), Favoured: board().Inset(0.8 * square)}
	for _, sq := range squares[:n] {
		f.Obstacles = append(f.Obstacles, Obstacle{At: place(sq), Keep: base*square + 0.0005})
	}
	return f, place(squares[n]), centre(squares[n+1]%8, squares[n+1]/8)
}

func seeded(t testing.TB, seed uint64) *rand.Rand {
	t.Logf("seed %d", seed)
	return rand.New(rand.NewPCG(seed, 7))
}

// wall is one obstacle between start and end: the shortest way is known in
// closed form, two tangents and an arc.
func TestShortestRoundOneDisc(t *testing.T) {
	const d, r = 0.05, 0.02
	f := Field{Inside: Rect{Min: Spot{X: -1, Y: -1}, Max: Spot{X: 1, Y: 1}}, Obstacles: []Obstacle{{At: Spot{}, Keep: r}}}
	w, ok := f.Shortest(Spot{X: -d}, Spot{X: d})
	if !ok {
		t.Fatal("no way round one disc on an open board")
	}
	want := 2*math.Sqrt(d*d-r*r) + r*2*math.Asin(r/d)
	if math.Abs(w.Length-want) > 2e-5 {
		t.Errorf("length %.6f m, closed form %.6f m", w.Length, want)
	}
	if w.Spare < -2*touching || w.Spare > drawn {
		t.Errorf("spare %g m, want the way to touch the disc", w.Spare)
	}
}

// A lane one micrometre wider than the base is found; one narrower is not.
func TestLaneToAHair(t *testing.T) {
	for _, c := range []struct {
		slack float64
		open  bool
	}{{1e-6, true}, {-1e-6, false}} {
		var f Field
		f.Inside = Rect{Min: Spot{X: -0.1, Y: -0.1}, Max: Spot{X: 0.1, Y: 0.1}}
		for k := -4; k <= 4; k++ {
			y := float64(k) * 0.03
			f.Obstacles = append(f.Obstacles, Obstacle{At: Spot{X: 0, Y: y}, Keep: 0.015 - c.slack})
		}
		w, ok := f.Shortest(Spot{X: -0.05}, Spot{X: 0.05})
		if ok != c.open {
			t.Errorf("slack %g m: way found %v (%v)", c.slack, ok, w)
		}
	}
}

func TestEnclosedHasNoPath(t *testing.T) {
	var f Field
	f.Inside = Rect{Min: Spot{X: -0.1, Y: -0.1}, Max: Spot{X: 0.1, Y: 0.1}}
	for k := range 8 {
		s, c := math.Sincos(float64(k) * math.Pi / 4)
		f.Obstacles = append(f.Obstacles, Obstacle{At: Spot{X: 0.04 * c, Y: 0.04 * s}, Keep: 0.016, Yields: k == 3})
	}
	out := Spot{X: 0.09}
	if _, ok := f.Shortest(Spot{}, out); ok {
		t.Error("a way out of a closed ring")
	}
	w, ok := f.Through(Spot{}, out, 1)
	if !ok || len(w.Yields) != 1 || w.Yields[0] != 3 {
		t.Errorf("want the way through hurdle 3, got %v %v", w.Yields, ok)
	}
	f.Obstacles[3].Yields = false
	if _, ok := f.Through(Spot{}, out, 1); ok {
		t.Error("a way through hurdles none of which yields")
	}
}

func TestRandomCrowds(t *testing.T) {
	rnd := seeded(t, 1)
	for _, base := range []float64{0.30, 0.40, 0.45, 0.60} {
		found := 0
		for range 200 {
			f, from, to := crowd(rnd, 12+rnd.IntN(20), base, 0.12)
			w, ok := f.Shortest(from, to)
			if !ok {
				continue
			}
			found++
			limit := limitOf(f, from, to)
			if w.Spare < limit-2e-9 {
				t.Fatalf("base %.2f: spare %g below %g", base, w.Spare, limit)
			}
			if w.Points[0] != from || w.Points[len(w.Points)-1] != to {
				t.Fatal("the way does not join its ends")
			}
			b, ok := f.Best(from, to, Taste{Room: 0.004, Longer: 0.1, Bend: 0.003})
			if !ok || b.Length > w.Length*1.1+1e-9 || b.Spare < limit-2e-9 {
				t.Fatalf("base %.2f: best way %v %g m against shortest %g m, spare %g", base, ok, b.Length, w.Length, b.Spare)
			}
		}
		t.Logf("base %.2f: %d of 200 have a way", base, found)
	}
}

// limitOf is the spare the start and the end themselves have.
func limitOf(f Field, from, to Spot) float64 {
	m := 0.0
	for _, h := range f.Obstacles {
		m = math.Min(m, math.Min(h.At.Distance(from), h.At.Distance(to))-h.Keep)
	}
	return m
}

// thirty is a board with thirty pieces, some of them ready to yield.
func thirty(b *testing.B, yields bool) (fs []Field, ends [][2]Spot) {
	rnd := seeded(b, 2)
	for range 64 {
		f, from, to := crowd(rnd, 30, 0.45, 0.12)
		for i := range f.Obstacles {
			f.Obstacles[i].Yields = yields && i%2 == 0
		}
		fs, ends = append(fs, f), append(ends, [2]Spot{from, to})
	}
	return fs, ends
}

func BenchmarkBest(b *testing.B) {
	fs, ends := thirty(b, false)
	for i := 0; b.Loop(); i++ {
		k := i % len(fs)
		fs[k].Best(ends[k][0], ends[k][1], Taste{Room: 0.004, Longer: 0.1, Bend: 0.003})
	}
}

func BenchmarkThrough(b *testing.B) {
	fs, ends := thirty(b, true)
	for i := 0; b.Loop(); i++ {
		k := i % len(fs)
		fs[k].Through(ends[k][0], ends[k][1], 0.3)
	}
}
