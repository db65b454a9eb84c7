// SPDX-License-Identifier: Apache-2.0

package drag

import (
	"math"
	"testing"

	"boardhand/internal/magnet"
	"boardhand/internal/unit"
)

// sled moves one piece step by step through time behind a magnet: the route to
// the lag that uses no balance of forces at all.
type sled struct {
	t       *testing.T
	s       Stand
	x, v    float64 // the piece
	m       float64 // the magnet
	largest float64 // offset seen
}

const step = 2e-5 // s; a tenth of it changes the resting place by below 1 µm

// walkError allows for the finite step, mm.
const walkError = 0.01

// tick moves the magnet to m and the piece by one step of dry friction.
func (d *sled) tick(m float64) {
	d.m = m
	p, err := d.s.Pull.At(float64(d.s.Gap), math.Abs(d.m-d.x))
	if err != nil {
		d.t.Fatal(err)
	}
	pull := p.Lateral
	if d.m < d.x {
		pull = -pull
	}
	n := d.s.Normal(p)
	if d.v == 0 && math.Abs(pull) <= d.s.Static*n {
		return
	}
	dir := math.Copysign(1, d.v)
	if d.v == 0 {
		dir = math.Copysign(1, pull)
	}
	v := d.v + (pull-dir*d.s.Kinetic*n)/float64(d.s.Mass)*step
	if v*dir < 0 {
		v = 0 // stops; the next step decides whether static friction holds
	}
	d.v = v
	d.x += v * step
	d.largest = max(d.largest, math.Abs(d.m-d.x))
}

// ride runs the magnet from where it is to an end by a trapezoid.
func (d *sled) trajectory(end, speed, a float64) {
	from, dir := d.m, math.Copysign(1, end-d.m)
	length := math.Abs(end - from)
	top := min(speed, math.Sqrt(length*a))
	ramp := top / a
	total := length/top + ramp
	for t := 0.0; t < total; t += step {
		var at float64
		switch {
		case t < ramp:
			at = a * t * t / 2
		case t < total-ramp:
			at = top * (t - ramp/2)
		default:
			at = length - a*(total-t)*(total-t)/2
		}
		d.tick(from + dir*at)
	}
	for t := 0.0; t < 0.1; t += step {
		d.tick(end)
	}
}

func TestSettledPieceEndsCentred(t *testing.T) {
	lower, upper := disc(10, 5, 1.3), disc(6, 2, 1.3)
	m, err := magnet.NewMap(lower, upper, magnet.MapRange{GapFrom: unit.MM(3), GapTo: unit.MM(8), OffsetTo: unit.MM(80)})
	if err != nil {
		t.Fatal(err)
	}
	for _, grams := range []float64{4, 14} {
		s := stand(lower, upper, 4.9, grams)
		s.Pull = m
		const speed, a, target = 0.06, 0.3, 0.064
		plan, err := s.Settle(a)
		if err != nil {
			t.Fatal(err)
		}
		d := &sled{t: t, s: s}
		d.trajectory(target+float64(plan.Lead), speed, a)
		behind := d.m - d.x
		d.trajectory(target, speed, a)
		t.Logf("%g g: lead %v, came to rest %.3f mm behind, ends %.3f mm from the target, largest offset %.2f mm",
			grams, plan.Lead, behind*1e3, (d.x-target)*1e3, d.largest*1e3)
		near(t, "rest behind the magnet, mm", behind*1e3, plan.Lead.MM(), plan.Error.MM()+walkError)
		near(t, "rest from the target, mm", d.x*1e3, target*1e3, plan.Error.MM()+walkError)
		if surge, err := s.Surge(Start{Speed: speed}); err != nil || d.largest > float64(surge)+walkError*1e-3 {
			t.Errorf("largest offset %g mm, surge %v %v", d.largest*1e3, surge, err)
		}
		// Without the lead it ends a lag short.
		d = &sled{t: t, s: s}
		d.trajectory(target, speed, a)
		near(t, "without lead, mm", (target-d.x)*1e3, plan.Lead.MM(), plan.Error.MM()+walkError)
	}
}

func TestComingBackTooFarDragsThePiece(t *testing.T) {
	s := stand(disc(10, 5, 1.3), disc(6, 2, 1.3), 4.9, 8)
	plan, err := s.Settle(0.3)
	if err != nil {
		t.Fatal(err)
	}
	if !(plan.Stick > plan.Lead) {
		t.Fatalf("static friction must hold past the lag: stick %v, lead %v", plan.Stick, plan.Lead)
	}
	for over, moves := range map[float64]bool{-0.0002: false, 0.0002: true} {
		d := &sled{t: t, s: s}
		for at := 0.0; at < float64(plan.Stick)+over; at += 1e-6 {
			d.tick(-at)
		}
		if (d.x != 0) != moves {
			t.Errorf("magnet moved off by stick%+g mm: piece at %g, want moved %v", over*1e3, d.x, moves)
		}
	}
}

func TestSpreadIsItsWorstCorner(t *testing.T) {
	s := stand(disc(10, 5, 1.3), disc(6, 2, 1.3), 4.9, 6)
	sp := Spread{Weak: 0.95, Strong: 1.05, Near: unit.MM(4.5), Far: unit.MM(5.3)}
	if err := sp.Check(); err != nil {
		t.Fatal(err)
	}
	hold, err := s.WorstHold(sp, 0.3)
	if err != nil {
		t.Fatal(err)
	}
	pass, err := s.WorstNeighbour(sp, 0.3)
	if err != nil {
		t.Fatal(err)
	}
	lags, err := s.LagRange(sp, 0.3, 0)
	if err != nil {
		t.Fatal(err)
	}
	settle, err := s.SettleOver(sp, 0.3)
	if err != nil {
		t.Fatal(err)
	}
	for _, times := range []float64{0.95, 1, 1.05} {
		for _, gap := range []float64{4.5, 4.9, 5.3} {
			c := s
			c.Gap, c.Pull = unit.MM(gap), Scaled{s.Pull, times}
			h, _ := c.Best(0.3)
			p, _ := c.Neighbour(0.3)
			l, _ := c.Lag(0.3, 0)
			k, _ := c.Lag(c.Kinetic, 0)
			if h.Net < hold.Net-1e-9 || p.Safe > pass.Safe+1e-9 || p.Excess > pass.Excess+1e-9 || p.Normal < pass.Normal-1e-9 {
				t.Errorf("times %g gap %g is worse than the worst corner", times, gap)
			}
			if l < lags.Least-1e-6 || l > lags.Most+1e-6 {
				t.Errorf("times %g gap %g: lag %v outside %v–%v", times, gap, l, lags.Least, lags.Most)
			}
			if off := math.Abs(float64(k - settle.Lead)); off > float64(settle.Error)+1e-6 {
				t.Errorf("times %g gap %g: ends %g mm off, stated %v", times, gap, off*1e3, settle.Error)
			}
		}
	}
	drop, err := s.WorstDrop(sp, 0.3)
	nominal, _ := s.LeastDrop(0.3)
	if err != nil || drop <= nominal {
		t.Errorf("worst drop %v, nominal %v, %v", drop, nominal, err)
	}
	for _, bad := range []Spread{{}, {1.1, 1, 1, 2}, {1, 1, 2, 1}} {
		if bad.Check() == nil {
			t.Errorf("%+v must be refused", bad)
		}
	}
}

// A magnet that starts at full speed under a piece at rest is the worst case
// Surge speaks of. Just too fast it tears off.
func TestSurgeIsWhatASuddenStartDoes(t *testing.T) {
	s := stand(disc(10, 5, 1.3), disc(6, 2, 1.3), 4.9, 8)
	start := func(speed float64) float64 {
		d := &sled{t: t, s: s}
		for at := 0.0; at < 0.02; at += speed * step {
			d.tick(at)
		}
		return d.largest
	}
	for _, speed := range []float64{0.05, 0.12, 0.3} {
		surge, err := s.Surge(Start{Speed: unit.Speed(speed)})
		if err != nil {
			t.Fatal(err)
		}
		near(t, "largest offset, mm", start(speed)*1e3, surge.MM(), 0.02)
	}
	lo, hi := 0.3, 5.0
	for hi-lo > 1e-3 {
		mid := (lo + hi) / 2
		if _, err := s.Surge(Start{Speed: unit.Speed(mid)}); err == nil {
			lo = mid
		} else if err == ErrSlips {
			hi = mid
		} else {
			t.Fatal(err)
		}
	}
	t.Logf("tears off above %.3f m/s", lo)
	tear, err := s.TearOff(Start{Speed: 1})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "tear-off speed", float64(tear.Off), lo, 0.01*lo)
	if start(lo*0.98) > 0.012 {
		t.Errorf("just below %g m/s it already tears off", lo)
	}
	if start(lo*1.03) < 0.012 {
		t.Errorf("just above %g m/s it still follows", lo)
	}
}

// From a standstill acceleration decides, not speed: a heavy piece follows at eight times
// the speed at which a sudden start tears it off, and is lost where the acceleration alone
// is too much. The time-stepped piece gets as far behind as the energy says.
func TestStartFromRest(t *testing.T) {
	lower, upper := disc(8, 4, 1.29), disc(5, 2, 1.29)
	m, err := magnet.NewMap(lower, upper, magnet.MapRange{GapFrom: unit.MM(3), GapTo: unit.MM(8), OffsetTo: unit.MM(80)})
	if err != nil {
		t.Fatal(err)
	}
	s := stand(lower, upper, 4.9, 40)
	s.Pull = m
	sudden, err := s.TearOff(Start{Speed: 0.3})
	if err != nil {
		t.Fatal(err)
	}
	for _, w := range []struct {
		speed, a float64
		follows  bool
	}{{0.3, 0.4, true}, {0.8, 0.4, true}, {0.8, 1.5, true}, {0.05, 0.4, true}, {2, 2, true}, {2, 4, false}, {2, 9, false}, {0.8, 40, false}} {
		start := Start{unit.Speed(w.speed), unit.Acceleration(w.a)}
		d := &sled{t: t, s: s}
		for at, v, n := 0.0, 0.0, 0; n < 30000 && d.m-d.x < 0.03; n++ {
			v = min(w.speed, v+w.a*step)
			at += v * step
			d.tick(at)
		}
		surge, err := s.Surge(start)
		tear, _ := s.TearOff(start)
		t.Logf("%g m/s at %g m/s²: behind by %.2f mm, at most %.2f mm; breaks away at %.0f of %.0f mm/s (a sudden start: %.0f)",
			w.speed, w.a, d.largest*1e3, surge.MM(), float64(tear.At)*1e3, float64(tear.Off)*1e3, float64(sudden.Off)*1e3)
		if w.follows != (err == nil) || w.follows != (tear.At < tear.Off) || w.follows != (d.largest < 0.02) {
			t.Errorf("%g m/s at %g m/s²: %v, %+v, behind by %g mm", w.speed, w.a, err, tear, d.largest*1e3)
		}
		if w.follows && (d.largest > 1.01*float64(surge) || d.largest < 0.98*float64(surge)) {
			t.Errorf("%g m/s at %g m/s²: behind by %g mm, surge %v", w.speed, w.a, d.largest*1e3, surge)
		}
	}
}
