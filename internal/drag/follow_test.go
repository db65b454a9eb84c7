// SPDX-License-Identifier: Apache-2.0

// Who checks whom in this package:
//
//	Lag, Best, Neighbour ← reference points; force balance put back into the
//	                       force law; the moving piece of settle_test.go
//	LeastDrop            ← Neighbour just above and just below it; dipole limit
//	Settle               ← a piece moved step by step through time
//	StaysLowered         ← the same while the magnet sinks
//	Swing, Astray        ← the same behind a magnet driven hard
//	Apart                ← SideBySide put back; dipole limit
//	Tip                  ← a piece with no magnet (a = g·r/h); far magnets
//	Spread               ← every corner computed by itself
package drag

import (
	"fmt"
	"math"
	"testing"

	"boardhand/internal/magnet"
	"boardhand/internal/unit"
)

func disc(d, l, br float64) magnet.Cylinder {
	return magnet.Cylinder{Diameter: unit.MM(d), Thickness: unit.MM(l), Br: unit.FluxDensity(br)}
}

func stand(lower, upper magnet.Cylinder, gap, grams float64) Stand {
	return Stand{Pull: Pair{lower, upper}, Gap: unit.MM(gap), Mass: unit.Grams(grams), Static: 0.30, Kinetic: 0.30 * KineticShare}
}

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: got %.6g, want %.6g ± %g", what, got, want, tolerance)
	}
}

// Reference points, Br 1.30 T, static friction 0.30: computed independently by
// direct integration over the charged discs.
func TestReferencePoints(t *testing.T) {
	for _, w := range []struct {
		lower, upper       magnet.Cylinder
		grams              float64
		lag, net, at, safe float64
	}{
		{disc(8, 4, 1.3), disc(6, 2, 1.3), 6, 1.7, 0.36, 5.3, 15.3},
		{disc(6, 3, 1.3), disc(6, 2, 1.3), 6, 1.6, 0.21, 4.8, 13.0},
		{disc(10, 5, 1.3), disc(8, 3, 1.3), 6, 1.9, 1.06, 6.4, 28.9},
		{disc(15, 8, 1.3), disc(8, 3, 1.3), 6, 2.6, 1.85, 8.3, 42.0},
		{disc(15, 8, 1.3), disc(8, 3, 1.3), 14, 2.7, 1.82, 8.3, 31.4},
	} {
		s := stand(w.lower, w.upper, 4.9, w.grams)
		name := fmt.Sprintf("%v over %v, %g g", w.upper.Diameter, w.lower.Diameter, w.grams)
		lag, err := s.Lag(s.Static, 0)
		if err != nil {
			t.Fatal(err)
		}
		best, err := s.Best(s.Static)
		if err != nil {
			t.Fatal(err)
		}
		pass, err := s.Neighbour(s.Static)
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("%s: lag %.2f, net %.3f at %.2f, safe %.2f", name, lag.MM(), best.Net, best.Offset.MM(), pass.Safe.MM())
		// The reference was scanned in steps of 0.1 mm: the lag is the first step
		// where the pull wins over friction, safe the last step where it does.
		near(t, name+" lag", math.Ceil(lag.MM()*10)/10, w.lag, 1e-9)
		near(t, name+" safe", math.Floor(pass.Safe.MM()*10)/10, w.safe, 1e-9)
		near(t, name+" net", best.Net, w.net, 0.005)
		near(t, name+" at", best.Offset.MM(), w.at, 0.05+1e-6)
	}
}

func TestBalanceHoldsWhereLagSays(t *testing.T) {
	for _, gap := range []float64{3, 4.9, 6} {
		for _, a := range []float64{-1, 0, 0.4, 2} {
			s := stand(disc(10, 5, 1.3), disc(6, 2, 1.3), gap, 8)
			lag, err := s.Lag(s.Kinetic, unit.Acceleration(a))
			if err != nil {
				t.Fatal(err)
			}
			p, _ := s.Pull.At(float64(s.Gap), float64(lag))
			left := p.Lateral - s.Kinetic*(0.008*Gravity+p.Axial) - 0.008*a
			near(t, fmt.Sprintf("gap %g a %g: force left over", gap, a), left, 0, 1e-4)
		}
	}
}

func TestSlipsWhenNothingIsEnough(t *testing.T) {
	s := stand(disc(3, 1, 1.2), disc(3, 1, 1.2), 8, 40)
	if lag, err := s.Lag(s.Static, 0); err != ErrSlips {
		t.Errorf("got %v, %v, want ErrSlips", lag, err)
	}
	if h, err := s.Best(s.Static); err != nil || h.Net >= 0 {
		t.Errorf("got %+v %v, want a negative net pull", h, err)
	}
	// At the very limit of the acceleration it still follows; above it slips.
	s = stand(disc(10, 5, 1.3), disc(6, 2, 1.3), 4.9, 6)
	h, err := s.Best(s.Static)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.Lag(s.Static, h.Most*0.9999); err != nil {
		t.Errorf("just below the limit: %v", err)
	}
	if _, err := s.Lag(s.Static, h.Most*1.0001); err != ErrSlips {
		t.Errorf("just above the limit: got %v, want ErrSlips", err)
	}
}

// The pull pushes pieces away outside the ring; the normal force never falls
// below zero, and where it is zero any pull drags.
func TestNeighbourNearTheRingLifts(t *testing.T) {
	s := stand(disc(15, 8, 1.3), disc(8, 3, 1.3), 2, 6)
	p, err := s.Neighbour(s.Static)
	if err != nil {
		t.Fatal(err)
	}
	if p.Normal != 0 || p.LiftAt < unit.MM(9) || p.LiftAt > unit.MM(15) {
		t.Errorf("strong pair: got least normal force %g N at %v, want 0 near 12 mm", p.Normal, p.LiftAt)
	}
	s.Gap, s.Mass = unit.MM(40), unit.Grams(50)
	if p, err = s.Neighbour(s.Static); err != nil || p.Excess >= 0 || p.Safe != 0 {
		t.Errorf("far magnet, heavy piece: got %+v %v, want never dragged", p, err)
	}
}

func TestLeastDropIsTheEdge(t *testing.T) {
	for _, gap := range []float64{3.9, 4.9} {
		s := stand(disc(10, 5, 1.3), disc(6, 2, 1.3), gap, 6)
		drop, err := s.LeastDrop(s.Static)
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("gap %g: least drop %v", gap, drop)
		for shift, drags := range map[float64]bool{-0.05: true, 0.05: false} {
			low := s
			low.Gap += drop + unit.MM(shift)
			if p, err := low.Neighbour(s.Static); err != nil || (p.Excess > 0) != drags {
				t.Errorf("gap %g, drop %v%+g mm: excess %g, want dragged %v (%v)", gap, drop, shift, p.Excess, drags, err)
			}
		}
	}
	s := stand(disc(10, 5, 1.3), disc(6, 2, 1.3), 40, 50)
	if drop, err := s.LeastDrop(s.Static); err != nil || drop != 0 {
		t.Errorf("a far magnet needs no drop; got %v %v", drop, err)
	}
}

func TestStandSaysWhatIsWrong(t *testing.T) {
	good := stand(disc(10, 5, 1.3), disc(6, 2, 1.3), 4.9, 6)
	if err := good.Check(); err != nil {
		t.Error(err)
	}
	for name, s := range map[string]Stand{
		"no law":     {Mass: good.Mass, Static: 0.3, Kinetic: 0.2},
		"no mass":    {Pull: good.Pull, Static: 0.3, Kinetic: 0.2},
		"NaN mass":   {Pull: good.Pull, Mass: unit.Mass(math.NaN()), Static: 0.3, Kinetic: 0.2},
		"friction":   {Pull: good.Pull, Mass: good.Mass, Static: -1, Kinetic: 0.2},
		"kinetic up": {Pull: good.Pull, Mass: good.Mass, Static: 0.3, Kinetic: 0.4},
		"reach":      {Pull: good.Pull, Mass: good.Mass, Static: 0.3, Kinetic: 0.2, Reach: -1},
	} {
		if s.Check() == nil {
			t.Errorf("%s: want an error", name)
		}
	}
	bad := good
	bad.Gap = 0
	if _, err := bad.Lag(0.3, 0); err == nil || err == ErrSlips {
		t.Errorf("gap 0: got %v, want the force law's error", err)
	}
}

func ExampleStand_Neighbour() {
	drive := magnet.Cylinder{Diameter: unit.MM(15), Thickness: unit.MM(8), Br: 1.30}
	base := magnet.Cylinder{Diameter: unit.MM(8), Thickness: unit.MM(3), Br: 1.30}
	pawn := Stand{Pull: Pair{drive, base}, Gap: unit.MM(4.9), Mass: unit.Grams(6), Static: 0.30, Kinetic: 0.225}
	p, err := pawn.Neighbour(pawn.Static)
	if err != nil {
		fmt.Println(err)
	}
	fmt.Printf("a standing piece is dragged within %.1f mm\n", p.Safe.MM())
	// Output: a standing piece is dragged within 42.1 mm
}
