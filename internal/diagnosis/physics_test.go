// SPDX-License-Identifier: Apache-2.0

package diagnosis

import (
	"math"
	"testing"

	"boardhand/internal/drag"
	"boardhand/internal/game"
	"boardhand/internal/rig"
)

// A piece follows a magnet of some strength exactly where package drag finds a
// pull left over after friction, with the integral in full.
func TestBorneAgreesWithDrag(t *testing.T) {
	r := rig.Default()
	c, gaps, err := coupled(r)
	if err != nil {
		t.Fatal(err)
	}
	s := c.Stand(game.Knight)
	for _, strength := range []float64{0.03, 0.06, 0.09, 0.2} {
		mu, err := borne(s, gaps[1], strength)
		if err != nil {
			t.Fatal(err)
		}
		if mu >= 1e3 {
			continue
		}
		weak := s
		weak.Pull = drag.Scaled{Puller: s.Pull, Times: strength}
		for _, by := range []float64{0.97, 1.03} {
			h, err := weak.Best(mu * by)
			if err != nil {
				t.Fatal(err)
			}
			if (h.Net > 0) != (by < 1) {
				t.Errorf("strength %g, friction %.3f of the %.3f borne: %.2g N left over", strength, mu*by, mu, h.Net)
			}
		}
	}
}

// What the model says of the default rig: a sound magnet loses nobody, a weaker
// one loses the heavier first, an upside-down one moves everybody.
func TestPhysicsOfTheDefaultRig(t *testing.T) {
	p, err := physicsOf(rig.Default())
	if err != nil {
		t.Fatal(err)
	}
	for name, k := range p.kinds {
		for i := 1; i < len(strengths); i++ {
			if k.slips[i] > k.slips[i-1]+1e-12 {
				t.Errorf("%s slips more often at %g of the strength than at %g", name, strengths[i], strengths[i-1])
			}
		}
		if k.slips[0] != 1 || k.slips[len(strengths)-1] > 1e-3 {
			t.Errorf("%s: slips %v", name, k.slips)
		}
		if k.stays > 0.05 || k.flight < 3e-3 || k.flight > 30e-3 {
			t.Errorf("%s over a magnet upside down: stays %.3f, flies %.1f mm", name, k.stays, 1e3*k.flight)
		}
	}
	if heavy, light := p.kinds["king"].slips, p.kinds["pawn"].slips; heavy[5] <= light[5] {
		t.Errorf("the king slips as seldom as a pawn: %v, %v", heavy, light)
	}
	if p.raised < 5e-3 || p.raised > 25e-3 || p.scatter < 0.05e-3 || p.scatter > 1e-3 {
		t.Errorf("raised magnet reaches %.1f mm, arrivals scatter by %.2f mm", 1e3*p.raised, 1e3*p.scatter)
	}
	if math.Abs(p.field-0.32) > 1e-9 {
		t.Errorf("field %.3f m", p.field)
	}
}

// Every way to end a carry is a distribution.
func TestEndingsSumToOne(t *testing.T) {
	p, err := physicsOf(rig.Default())
	if err != nil {
		t.Fatal(err)
	}
	sum := func(e [endings]float64) (s float64) {
		for _, v := range e {
			s += v
		}
		return s
	}
	if s := sum(soundEndings); math.Abs(s-1) > 1e-9 {
		t.Errorf("sound: %g", s)
	}
	x := newStream(1).carry()
	for _, cause := range Causes() {
		for v := range variantsOf(cause) {
			h := hypothesis{cause: cause, piece: x.Piece, variant: v, place: x.From}
			if e, ok := h.acts(x, p); ok && math.Abs(sum(e.ends)-1) > 1e-9 {
				t.Errorf("%s, variant %d: %g", cause, v, sum(e.ends))
			}
		}
	}
}

func TestRefusesARigOutsideTheFormulas(t *testing.T) {
	r := rig.Default()
	r.Lift.Grade = "N99"
	if _, err := NewCase(r); err == nil {
		t.Error("a magnet of an unknown grade is taken")
	}
	r = rig.Default()
	r.Board.Warp, r.Lift.Spring = 0, 0
	if _, err := NewCase(r); err != nil {
		t.Errorf("a flat board without a spring: %v", err)
	}
}
