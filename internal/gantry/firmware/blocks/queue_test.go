// SPDX-License-Identifier: Apache-2.0

package blocks

import (
	"math"
	"math/rand/v2"
	"testing"
)

var plain = Limits{Rate: Vector{100, 100, 100}, Accel: Vector{400, 400, 400}, Deviation: 0.01}

// runOut runs a queue to its end in steps of dt and returns how long that took.
func runOut(q *Queue, dt float64, each func()) float64 {
	t := 0.0
	for q.Len() > 0 {
		d := math.Min(dt, q.UntilNext())
		q.Advance(d)
		t += d
		each()
	}
	return t
}

// A single move takes v/a + s/v when it reaches its speed and 2√(s/a) when it
// does not, in whatever steps time passes.
func TestTrapezoidTimes(t *testing.T) {
	for _, c := range []struct{ way, speed, want float64 }{
		{100, 50, 50.0/400 + 100.0/50},
		{10, 100, 2 * math.Sqrt(10.0/400)}, // too short: 25 mm are needed
		{25, 100, 100.0/400 + 25.0/100},    // just
		{-60, 120, 100.0/400 + 60.0/100},   // the axis' own rate
	} {
		for _, dt := range []float64{1e-3, 7e-3, 1} {
			q := New(plain, Vector{})
			q.Add(Vector{c.way}, Feed{Speed: c.speed})
			if got := runOut(q, dt, func() {}); math.Abs(got-c.want) > 1e-6 {
				t.Errorf("%g mm at %g mm/s in steps of %g s: %.6f s, want %.6f", c.way, c.speed, dt, got, c.want)
			}
			if q.Position() != (Vector{c.way}) {
				t.Errorf("ended at %v", q.Position())
			}
		}
	}
}

// A diagonal is as fast as its direction lets each axis, and so is its acceleration.
func TestDiagonalUsesBothAxes(t *testing.T) {
	q := New(Limits{Rate: Vector{100, 50, 1}, Accel: Vector{400, 100, 1}}, Vector{})
	q.Add(Vector{30, 40}, Feed{Rapid: true})
	// Unit (0.6, 0.8): 50/0.8 = 62.5 mm/s, 100/0.8 = 125 mm/s².
	want := 62.5/125 + 50/62.5
	if got := runOut(q, 1e-3, func() {}); math.Abs(got-want) > 1e-6 {
		t.Errorf("%.6f s, want %.6f", got, want)
	}
}

// A right angle is taken at v² = a·d·s/(1−s), s = sin 45°; straight on at full
// speed; back on itself at rest. a is what the axes allow along the turn: √2·400.
func TestJunctionSpeeds(t *testing.T) {
	s := math.Sin(math.Pi / 4)
	for _, c := range []struct {
		out  Vector
		want float64
	}{
		{Vector{0, 1}, math.Sqrt(400 * math.Sqrt2 * 0.01 * s / (1 - s))},
		{Vector{1}, math.Inf(1)},
		{Vector{-1}, 0},
	} {
		if got := Junction(Vector{1}, c.out, plain); got != c.want && math.Abs(got-c.want) > 1e-9 {
			t.Errorf("into %v: %.6f mm/s, want %.6f", c.out, got, c.want)
		}
	}
	q, slowest := New(plain, Vector{}), math.Inf(1)
	q.Add(Vector{50}, Feed{Speed: 80})
	q.Add(Vector{50, 50}, Feed{Speed: 80})
	runOut(q, 1e-4, func() {
		if p := q.Position(); p[0] > 20 && p[1] < 20 && q.Len() > 0 {
			slowest = math.Min(slowest, q.Speed())
		}
	})
	if want := Junction(Vector{1}, Vector{0, 1}, plain); math.Abs(slowest-want) > 0.05 {
		t.Errorf("the corner was taken at %.3f mm/s, want %.3f", slowest, want)
	}
}

// A line chopped up runs as the whole does, as long as the queue looks far enough
// ahead: 16 blocks must hold the way to stop in.
func TestLookAheadOverChoppedLine(t *testing.T) {
	chopped := func(piece float64) float64 {
		q, x, time := New(plain, Vector{}), 0.0, 0.0
		for x < 100 || q.Len() > 0 {
			for x < 100 && q.Len() < Capacity {
				x += piece
				q.Add(Vector{x}, Feed{Speed: 80})
			}
			d := q.UntilNext()
			q.Advance(d)
			time += d
		}
		return time
	}
	whole := 80.0/400 + 100.0/80
	if got := chopped(1); math.Abs(got-whole) > 1e-6 {
		t.Errorf("pieces of 1 mm: %.6f s, want %.6f", got, whole)
	}
	// 15 blocks of 0.1 mm ahead let no more than √(2·400·1.6) = 36 mm/s.
	if got := chopped(0.1); got < 100/36.0 {
		t.Errorf("pieces of 0.1 mm: %.3f s is faster than the queue can see", got)
	}
}

// No axis ever leaves its rate or acceleration on random ways, corners aside, and
// every way is run to its end.
func TestRandomWaysKeepTheLimits(t *testing.T) {
	const seed, dt = 11, 1e-3
	t.Log("seed", seed)
	rnd := rand.New(rand.NewPCG(seed, 0))
	for range 200 {
		q, to := New(plain, Vector{}), Vector{}
		for range 1 + rnd.IntN(Capacity) {
			to = Vector{to[0] + 20*rnd.NormFloat64(), to[1] + 20*rnd.NormFloat64(), 0}
			q.Add(to, Feed{Speed: 1 + 150*rnd.Float64(), Rapid: rnd.IntN(4) == 0})
		}
		last, speed := q.Position(), 0.0
		blocks := q.Len()
		runOut(q, dt, func() {
			if q.Speed() > math.Sqrt2*100+1e-6 {
				t.Fatalf("%.3f mm/s along the way", q.Speed())
			}
			if q.Len() == blocks && math.Abs(q.Speed()-speed) > 400*math.Sqrt2*dt+1e-6 {
				t.Fatalf("from %.4f to %.4f mm/s in %g s", speed, q.Speed(), dt)
			}
			if d := last.to(q.Position()).norm(); d > math.Sqrt2*100*dt+1e-6 {
				t.Fatalf("jumped %.4f mm", d)
			}
			last, speed, blocks = q.Position(), q.Speed(), q.Len()
		})
		if q.Position() != to {
			t.Fatalf("ended at %v, not %v", q.Position(), to)
		}
	}
}

// A held machine stops within v²/2a, goes on from there, and loses nothing.
func TestHoldAndResume(t *testing.T) {
	q := New(plain, Vector{})
	q.Add(Vector{100}, Feed{Speed: 80})
	q.Advance(0.5)
	at := q.Position()[0]
	q.Hold()
	for !math.IsInf(q.UntilNext(), 1) {
		q.Advance(math.Min(1e-3, q.UntilNext()))
	}
	if got, want := q.Position()[0]-at, 80.0*80/(2*400); math.Abs(got-want) > 1e-6 || q.Speed() != 0 {
		t.Errorf("stopped after %.4f mm, want %.4f", got, want)
	}
	left := 100 - q.Position()[0]
	q.Resume()
	if got, want := runOut(q, 1e-3, func() {}), 80.0/400+left/80; math.Abs(got-want) > 1e-6 {
		t.Errorf("the rest took %.5f s, want %.5f", got, want)
	}
}

// Half the feed takes effect on the block that runs.
func TestOverrideActsAtOnce(t *testing.T) {
	q := New(plain, Vector{})
	q.Add(Vector{1000}, Feed{Speed: 80})
	q.Advance(1)
	q.Override(0.5, 1)
	q.Advance(80.0/400/2 + 0.01)
	if math.Abs(q.Speed()-40) > 1e-9 {
		t.Errorf("%.3f mm/s, want 40", q.Speed())
	}
}
