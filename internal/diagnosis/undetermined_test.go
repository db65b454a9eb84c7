// SPDX-License-Identifier: Apache-2.0

package diagnosis

import (
	"math"
	"testing"
)

// An arrival without a number explains nothing and breaks nothing.
func TestNoNumberIsNoFit(t *testing.T) {
	all := []arrival{{off: Spot{X: math.NaN()}, noise: math.NaN()}}
	f := solve(all, anyPlace, 0)
	if !math.IsInf(f.evidence, -1) || len(f.value) == 0 || len(f.value) != len(f.sigma) {
		t.Errorf("evidence %g, %d values, %d sigmas; want none at all for it", f.evidence, len(f.value), len(f.sigma))
	}
}

// One piece that does not come along tells not whether it is that piece or the machine: the
// next one does.
func TestOnePieceTellsNotWhich(t *testing.T) {
	for _, doesFollow := range []bool{true, false} {
		s := newStream(3)
		c := feed(newCase(t), 20, s.carry)
		of := func(p Piece) Symptom { y := s.carry(); y.Piece = p; return y }
		for range 3 {
			c.Add(s.stay(of(s.pieces[3])))
		}
		if all := c.Named(); len(all) > 0 {
			t.Errorf("after one piece %s is named", all[0].Cause)
		}
		want := MagnetMissing
		for range 3 {
			y := of(s.pieces[5])
			if !doesFollow {
				y, want = s.stay(y), NothingFollows
			}
			c.Add(y)
		}
		if all := c.Named(); len(all) != 1 || all[0].Cause != want {
			t.Errorf("the next follows %v, named are %+v; want %s", doesFollow, all, want)
		}
	}
}

// A piece that lies is lost again each time it is tried, which tells less each time; and one
// whose place another was dragged to is not to blame.
func TestWhatTellsLittle(t *testing.T) {
	s := newStream(4)
	c := feed(newCase(t), 20, s.carry)
	y := s.carry()
	y.Outcome, y.Found = Short, y.From.Add(Spot{X: 0.03})
	for range 4 {
		c.Add(y)
		y.From = y.Found
	}
	if all := c.Named(); len(all) > 0 {
		t.Errorf("one piece that was lost and tried again accuses %s", all[0].Cause)
	}
	if is := c.symptoms[20:]; is[0].isRepeat || !is[1].isRepeat || !is[3].isRepeat {
		t.Error("the second carry is the first that tries again")
	}
	y = s.stay(s.carry())
	c.Add(y)
	c.Add(Symptom{Act: Travel, Outcome: Pushed, Piece: s.pieces[1], From: Spot{}, To: y.To, End: y.To})
	if is := c.symptoms[24]; !is.isTaken || is.accuses() || !is.hasFailed() {
		t.Errorf("another piece stands at its end, and still it accuses: %+v", is)
	}
}

// Pieces carried to slots beside the field, which pictures measure by what lies on it, accuse
// no axis of a wrong scale; the same errors on the field do.
func TestSlotsAccuseNoAxis(t *testing.T) {
	for _, isBeside := range []bool{true, false} {
		s := newStream(5)
		c := feed(newCase(t), 12, s.carry)
		for i := range 12 {
			y := s.carry()
			y.To = Spot{X: math.Copysign(0.2, float64(i%2)-0.5), Y: y.To.Y}
			y.Found, y.Beside = s.blur(y.To.Add(Spot{X: 0.012 * y.To.X}), y.Sigma), isBeside
			c.Add(y)
		}
		is := len(c.Named()) > 0 && c.Named()[0].Cause == AxesScaleWrong
		if is == isBeside || isBeside && len(c.Named()) > 0 {
			t.Errorf("beside the field %v: named are %+v", isBeside, c.Named())
		}
	}
}

// A piece that was thrown off its magnet twice, to beside the way and behind where it stood,
// was pushed by it; one that was left on the way twice was not. Dipoles of which the same
// poles face each other repel (any textbook on magnetism).
func TestThrownAsideIsNotSlipped(t *testing.T) {
	for _, isThrown := range []bool{true, false} {
		s := newStream(4)
		c := feed(newCase(t), 8, s.carry)
		for range 2 {
			y := s.carry()
			for y.Piece = s.pieces[2]; length(y.Path) < 0.1; {
				y = s.carry()
				y.Piece = s.pieces[2]
			}
			y.Outcome, y.Found = Short, y.From.Add(y.To.Sub(y.From).Scale(0.5))
			if isThrown {
				back := y.From.Sub(y.To).Scale(1 / y.From.Distance(y.To))
				y.Found = y.From.Add(back.Scale(0.045))
			}
			c.Add(y)
			feed(c, 2, s.carry)
		}
		f := first(c)
		if is := f.Cause == MagnetFlipped && f.Piece == s.pieces[2].ID; is != isThrown {
			t.Errorf("thrown %v: named is %q of %q, of %+v", isThrown, f.Cause, f.Piece, c.Findings())
		}
	}
}

// dragged is a carry whose piece was pushed off its magnet by the one carried before, and
// how that one, held still, has gone along to where the carriage ended.
func (s *stream) dragged() (carry, pushed Symptom) {
	last, c := s.carry(), s.carry()
	for last.Piece == c.Piece || last.To.Distance(c.To) < square {
		last = s.carry()
	}
	c.Outcome, c.Found = Stayed, s.blur(c.From, 5e-3)
	return c, Symptom{Act: Travel, Outcome: Pushed, Piece: last.Piece, From: last.To, To: s.blur(c.To, 1e-3), Sigma: 1e-3, End: c.To,
		Path: []Spot{last.To, c.From}}
}

// Nothing but a magnet that has stayed up takes a piece along from where it let it go to
// where it ends: once is enough to tell. A piece without a magnet is not held.
func TestOneDragNamesTheLift(t *testing.T) {
	for _, w := range []struct {
		side string
		want Cause
	}{{"black", LiftStaysUp}, {"white", ""}} {
		named := 0
		for seed := uint64(1); seed <= 20; seed++ {
			s := newStream(seed)
			c := feed(newCase(t), 20, func() Symptom {
				if s.rnd.IntN(2) == 0 {
					return Symptom{Act: Travel, Outcome: Done, Path: []Spot{s.square(), s.square()}}
				}
				return s.carry()
			})
			carry, pushed := s.dragged()
			pushed.Piece.Side = w.side
			c.Add(carry)
			c.Add(pushed)
			if first(c).Cause == w.want {
				named++
			}
		}
		if named < 19 {
			t.Errorf("%s: named %q in %d of 20", w.side, w.want, named)
		}
	}
}

// A person moves a piece beside the way, to some square, in every twentieth carry of a
// sound machine: no part is at fault.
func TestAHandIsNoFault(t *testing.T) {
	wrong := 0
	for seed := uint64(1); seed <= 40; seed++ {
		s := newStream(seed)
		var pushed *Symptom
		c := feed(newCase(t), 80, func() Symptom {
			if pushed != nil {
				p := *pushed
				pushed = nil
				return p
			}
			c := s.carry()
			if s.rnd.IntN(20) == 0 {
				along := c.From.Add(c.To.Sub(c.From).Scale(s.rnd.Float64()))
				pushed = &Symptom{Act: Carry, Outcome: Pushed, Piece: s.pieces[s.rnd.IntN(len(s.pieces))], Carrier: c.Piece, From: s.blur(along, 0.02),
					To: s.blur(s.square(), 3e-3), Sigma: 1e-3, End: c.To, Path: c.Path}
				if s.rnd.IntN(2) == 0 {
					pushed.Act, pushed.Carrier = Travel, Piece{}
				}
			}
			return c
		})
		if all := c.Named(); len(all) > 0 {
			wrong++
			t.Logf("seed %d: %+v", seed, all[0])
		}
	}
	if wrong > 1 {
		t.Errorf("parts were accused at %d of 40 machines", wrong)
	}
}
