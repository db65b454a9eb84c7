// SPDX-License-Identifier: Apache-2.0

package drag

import (
	"errors"

	"boardhand/internal/unit"
)

// Spread is what is not known exactly: remanences between a grade's ends, gap
// between the warp's ends.
type Spread struct {
	Weak, Strong float64     // pull over that of the force law, least and most
	Near, Far    unit.Length // least and most gap
}

// corners are the four ends of the spread for one piece.
func (s Stand) corners(sp Spread) [4]Stand {
	var out [4]Stand
	for i := range out {
		c := s
		times := sp.Weak
		if i&1 == 1 {
			times = sp.Strong
		}
		c.Gap = sp.Far
		if i&2 == 2 {
			c.Gap = sp.Near
		}
		c.Pull = Scaled{s.Pull, times}
		out[i] = c
	}
	return out
}

// Check says what is wrong with the spread.
func (sp Spread) Check() error {
	if !(sp.Weak > 0 && sp.Weak <= sp.Strong) || !(sp.Near > 0 && sp.Near <= sp.Far) {
		return errors.New("spread must run from least to most, all above 0")
	}
	return nil
}

// WorstHold is the corner of the spread that holds a piece least.
func (s Stand) WorstHold(sp Spread, mu float64) (worst Hold, err error) {
	for i, c := range s.corners(sp) {
		h, err := c.Best(mu)
		if err != nil {
			return Hold{}, err
		}
		if i == 0 || h.Net < worst.Net {
			worst = h
		}
	}
	return worst, nil
}

// Lags is the least and the most lag over the spread.
type Lags struct{ Least, Most unit.Length }

// LagRange runs Lag over the corners of the spread.
func (s Stand) LagRange(sp Spread, mu float64, a unit.Acceleration) (out Lags, err error) {
	for i, c := range s.corners(sp) {
		lag, err := c.Lag(mu, a)
		if err != nil {
			return Lags{}, err
		}
		if i == 0 || lag < out.Least {
			out.Least = lag
		}
		out.Most = max(out.Most, lag)
	}
	return out, nil
}

// WorstNeighbour is the corner that drags standing pieces from farthest off;
// its Excess and Normal are the worst of all corners.
func (s Stand) WorstNeighbour(sp Spread, mu float64) (worst Passing, err error) {
	for i, c := range s.corners(sp) {
		p, err := c.Neighbour(mu)
		if err != nil {
			return Passing{}, err
		}
		if i == 0 {
			worst = p
			continue
		}
		if p.Excess > worst.Excess {
			worst.Excess, worst.Offset = p.Excess, p.Offset
		}
		if p.Normal < worst.Normal {
			worst.Normal, worst.LiftAt = p.Normal, p.LiftAt
		}
		worst.Safe = max(worst.Safe, p.Safe)
	}
	return worst, nil
}

// WorstDrop is the least lowering from the nominal gap that is enough at the
// strongest, nearest corner of the spread.
func (s Stand) WorstDrop(sp Spread, mu float64) (unit.Length, error) {
	c := s
	c.Gap, c.Pull = sp.Near, Scaled{s.Pull, sp.Strong}
	return c.LeastDrop(mu)
}

// SettleOver is Settle over the whole spread: the lead for the middle of all
// places where the piece may come to rest, and how far off it may then lie.
func (s Stand) SettleOver(sp Spread, braking unit.Acceleration) (Settling, error) {
	var all Lags
	var stick unit.Length
	for i, c := range s.corners(sp) {
		l, held, err := c.rests(braking)
		if err != nil {
			return Settling{}, err
		}
		if i == 0 {
			all, stick = l, held
		}
		all = Lags{min(all.Least, l.Least), max(all.Most, l.Most)}
		stick = min(stick, held)
	}
	return all.Settling(stick), nil
}

// WorstSurge is the largest offset in motion over the spread.
func (s Stand) WorstSurge(sp Spread, st Start) (most unit.Length, err error) {
	for _, c := range s.corners(sp) {
		x, err := c.Surge(st)
		if err != nil {
			return 0, err
		}
		most = max(most, x)
	}
	return most, nil
}

// WorstTearOff is the corner of the spread that is nearest to tearing off.
func (s Stand) WorstTearOff(sp Spread, st Start) (worst Tearing, err error) {
	for i, c := range s.corners(sp) {
		t, err := c.TearOff(st)
		if err != nil {
			return Tearing{}, err
		}
		if i == 0 || t.Off*worst.At < worst.Off*t.At {
			worst = t
		}
	}
	return worst, nil
}
