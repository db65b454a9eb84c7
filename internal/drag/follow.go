// SPDX-License-Identifier: Apache-2.0

package drag

import (
	"errors"
	"math"

	"boardhand/internal/magnet"
	"boardhand/internal/unit"
)

// ErrSlips says no offset pulls the piece along: the magnet leaves it behind.
var ErrSlips = errors.New("the magnet cannot move this piece: use a stronger pair, a smaller gap, a lighter piece or a slipperier base")

// Hold is the best the magnet can do for a piece.
type Hold struct {
	Net    float64     // largest pull after friction, N
	Offset unit.Length // where it is
	Most   unit.Acceleration
}

// Best is the largest pull back to the axis that is left after friction mu,
// and the acceleration it gives the piece; a negative one means it slips.
// Range: the stand's reach. Accuracy: that of the force law. Source: Coulomb
// friction, lateral ≥ μ(m·g + axial) + m·a.
func (s Stand) Best(mu float64) (Hold, error) {
	f := func(p magnet.Pull) float64 { return p.Lateral - mu*s.Normal(p) }
	v, err := s.curve(f)
	if err != nil {
		return Hold{}, err
	}
	top := 0
	for i := range v {
		if v[i] > v[top] {
			top = i
		}
	}
	x, net, err := s.highest(top, f)
	return Hold{net, unit.Length(x), unit.Acceleration(net / float64(s.Mass))}, err
}

// Lag is how far a piece stays behind a magnet that pulls it along with
// friction mu while the piece gains speed at a (0: steady speed, negative:
// braking). A piece slid in from outside comes to rest there. It is 0 where the
// friction needs no pull at all. ErrSlips when no offset is enough.
// Range: the stand's reach. Source: the balance lateral = μ(m·g + axial) + m·a.
func (s Stand) Lag(mu float64, a unit.Acceleration) (unit.Length, error) {
	f := func(p magnet.Pull) float64 { return p.Lateral - mu*s.Normal(p) - float64(s.Mass)*float64(a) }
	// The first crossing ends the scan: most lags are a small share of the reach.
	top, most := 0, math.Inf(-1)
	for i := range s.places() {
		v, err := s.at(s.place(i), f)
		switch {
		case err != nil:
			return 0, err
		case v >= 0 && i == 0:
			return 0, nil
		case v >= 0:
			return s.crossing(s.place(i-1), s.place(i), f)
		case v > most:
			top, most = i, v
		}
	}
	// A peak narrower than the scan may still reach over zero.
	x, best, err := s.highest(top, f)
	if err != nil {
		return 0, err
	}
	if best < 0 {
		return 0, ErrSlips
	}
	return s.crossing(s.place(max(top-1, 0)), x, f)
}

// Passing is what a magnet does to a standing piece it passes.
type Passing struct {
	Safe   unit.Length // beyond this offset the piece stays
	Excess float64     // largest lateral pull over friction anywhere, N; negative: never dragged
	Offset unit.Length // where that is
	Normal float64     // least force between base and surface, N; 0: the base lifts
	LiftAt unit.Length // where that is
}

// Neighbour is the effect of the magnet on a piece that stands beside its way,
// with static friction mu. Outside the ring where the axial force turns
// negative the base stands lighter and friction falls with it; the pull may
// also push the piece away. Safe is the stand's reach where even that is not
// enough, and Excess at the reach tells how far off. Range: the stand's reach.
// Source: Coulomb friction, normal force never below zero.
func (s Stand) Neighbour(mu float64) (Passing, error) {
	f := func(p magnet.Pull) float64 { return math.Abs(p.Lateral) - mu*s.Normal(p) }
	out := Passing{Normal: math.Inf(1)}
	n, top, last, most := s.places(), 0, -1, math.Inf(-1)
	for i := range n {
		p, err := s.Pull.At(float64(s.Gap), s.place(i))
		if err != nil {
			return Passing{}, err
		}
		v := f(p)
		if v > most {
			top, most = i, v
		}
		if v > 0 {
			last = i
		}
		if up := s.weight() + p.Axial; up < out.Normal {
			out.Normal, out.LiftAt = up, unit.Length(s.place(i))
		}
	}
	out.Normal = max(out.Normal, 0)
	x, excess, err := s.highest(top, f)
	if err != nil {
		return Passing{}, err
	}
	out.Offset, out.Excess = unit.Length(x), excess
	switch {
	case last == n-1:
		out.Safe = unit.Length(s.reach())
	case last >= 0:
		out.Safe, err = s.crossing(s.place(last), s.place(last+1), f)
	case excess > 0:
		out.Safe, err = s.crossing(x, s.place(top+1), f)
	}
	if err != nil {
		return Passing{}, err
	}
	return out, nil
}

// LeastDrop is the least lowering from the raised gap at which the magnet may
// pass anywhere under the standing piece without dragging it, with static
// friction mu. 0: it never drags. It fails when even 100 mm are not enough, or
// when the force law does not reach that deep. Source: as Neighbour.
func (s Stand) LeastDrop(mu float64) (unit.Length, error) {
	drags := func(drop float64) (bool, error) {
		low := s
		low.Gap += unit.Length(drop)
		p, err := low.Neighbour(mu)
		return p.Excess > 0, err
	}
	if bad, err := drags(0); err != nil || !bad {
		return 0, err
	}
	hi := 1e-3
	for {
		bad, err := drags(hi)
		if err != nil {
			return 0, err
		}
		if !bad {
			break
		}
		if hi *= 1.5; hi > lowest {
			return 0, errors.New("a magnet lowered by 100 mm still drags this piece: use a weaker pair")
		}
	}
	hi, err := narrow(0, hi, dropSettled, drags)
	return unit.Length(hi), err
}

// narrow halves the stretch from lo, which is bad, to hi, which is not, until
// it is no longer than within, and returns its good end.
func narrow(lo, hi, within float64, bad func(float64) (bool, error)) (float64, error) {
	for hi-lo > within {
		mid := (lo + hi) / 2
		is, err := bad(mid)
		if err != nil {
			return 0, err
		}
		if is {
			lo = mid
		} else {
			hi = mid
		}
	}
	return hi, nil
}
