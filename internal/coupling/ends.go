// SPDX-License-Identifier: Apache-2.0

package coupling

import (
	"errors"
	"math"

	"boardhand/internal/drag"
	"boardhand/internal/game"
	"boardhand/internal/unit"
)

// Off is by how much a build differs: shares of friction and of the pull, and metres of gap;
// or what something loses by each of them.
type Off struct{ Friction, Strength, Gap float64 }

// End is one end of where a piece comes to rest, metres, counted away from the lead that the
// machine plans, and what it moves further out by a share of friction, of the pull, and by a
// metre of gap.
type End struct {
	At float64
	Off
}

// Ends are both ends of where a piece of a kind rests over the gaps, of magnets in the middle
// of their grades: near the magnet, and far from it. By is how far off each slope is taken; a
// piece that is not held so far off counts as half a square out. Range, source: drag.Settle.
func (c Coupling) Ends(k game.Kind, lead unit.Length, by Off) (out [2]End, err error) {
	if out, err = c.rested(c.Stand(k), lead, 0); err != nil {
		return out, err
	}
	for i := range out {
		sign := float64(2*i - 1) // what brings this end out
		for j, d := range [3]float64{by.Friction, by.Strength, by.Gap} {
			if d == 0 {
				continue
			}
			st, wider := c.Stand(k), 0.0
			switch j {
			case 0:
				st.Static, st.Kinetic = st.Static*(1+sign*d), st.Kinetic*(1+sign*d)
			case 1:
				st.Pull = drag.Scaled{Puller: st.Pull, Times: 1 / (1 + sign*d)}
			case 2:
				wider = sign * d
			}
			moved, err := c.rested(st, lead, wider)
			if errors.Is(err, drag.ErrSlips) {
				moved[i].At, err = float64(c.Rig.Board.Square)/2, nil
			}
			if err != nil {
				return out, err
			}
			*[3]*float64{&out[i].Friction, &out[i].Strength, &out[i].Gap}[j] = (moved[i].At - out[i].At) / d
		}
	}
	return out, nil
}

// rested is both ends of where a piece rests over the gaps, each wider by some metres.
func (c Coupling) rested(st drag.Stand, lead unit.Length, wider float64) (out [2]End, err error) {
	for i, gap := range [2]unit.Length{c.Spread.Near, c.Spread.Far} {
		if i > 0 && gap == c.Spread.Near {
			break
		}
		st.Gap = gap + unit.Length(wider)
		t, err := st.Settle(c.Braking())
		if err != nil {
			return out, err
		}
		ends := [2]float64{float64(lead - t.Lead + t.Error), float64(t.Lead + t.Error - lead)}
		for e := range out {
			if i == 0 || ends[e] > out[e].At {
				out[e].At = ends[e]
			}
		}
	}
	return out, nil
}

// Between is an end of a piece whose mass is so far on the way from one piece's to another's.
func (e End) Between(to End, t float64) End {
	on := func(a, b float64) float64 { return a + t*(b-a) }
	return End{on(e.At, to.At), Off{on(e.Friction, to.Friction), on(e.Strength, to.Strength), on(e.Gap, to.Gap)}}
}

// Grasp is how a piece is held: by how many times its friction, newtons, at which offset,
// and by which share that falls with the gap, per metre.
type Grasp struct {
	Kind                   game.Kind
	Ratio, Friction, Slope float64
	At                     unit.Length
}

// Grasp is the worst of the lightest and the heaviest piece, for weak magnets at the widest
// gap. Source: Coulomb friction; the best offset by drag.Best.
func (c Coupling) Grasp() (Grasp, error) {
	worst := Grasp{Ratio: math.Inf(1)}
	for _, k := range c.Extremes() {
		st := c.Stand(k)
		st.Pull = drag.Scaled{Puller: st.Pull, Times: c.Spread.Weak}
		ratio, friction, at, err := grip(st, c.Spread.Far)
		if err != nil {
			return worst, err
		}
		wider, _, _, err := grip(st, c.Spread.Far+softStep)
		if err != nil {
			return worst, err
		}
		if ratio < worst.Ratio {
			worst = Grasp{k, ratio, friction, (ratio - wider) / ratio / softStep, at}
		}
	}
	return worst, nil
}

// grip is the pull over friction, newtons, of a piece at its best offset over a gap.
func grip(st drag.Stand, gap unit.Length) (ratio, friction float64, at unit.Length, err error) {
	st.Gap = gap
	h, err := st.Best(st.Static)
	if err != nil {
		return 0, 0, 0, err
	}
	p, err := st.Pull.At(float64(gap), float64(h.Offset))
	friction = st.Static * st.Normal(p)
	return p.Lateral / friction, friction, h.Offset, err
}

// Softness is by which share the pull falls with the gap, per metre, where it is largest.
func (c Coupling) Softness() float64 {
	at := float64(c.Rig.Lift.Diameter) / 2
	near, err := c.Pull.At(float64(c.Spread.Far), at)
	if err != nil {
		return 0
	}
	far, err := c.Pull.At(float64(c.Spread.Far)+softStep, at)
	if err != nil || far.Lateral <= 0 || near.Lateral <= 0 {
		return 0
	}
	return math.Log(near.Lateral/far.Lateral) / softStep
}

// Stray is how much farther a piece of a kind lags, or less far, than lags have it, metres,
// where friction is off by a share either way; half a square where it is not held.
func (c Coupling) Stray(k game.Kind, lags drag.Lags, by float64) (most float64, err error) {
	for _, share := range [2]float64{by, -by / (1 + by)} {
		st := c.Stand(k)
		st.Static, st.Kinetic = st.Static*(1+share), st.Kinetic*(1+share)
		l, err := st.LagRange(c.Spread, st.Kinetic, 0)
		if errors.Is(err, drag.ErrSlips) {
			most = math.Max(most, float64(c.Rig.Board.Square)/2)
			continue
		}
		if err != nil {
			return 0, err
		}
		most = math.Max(most, float64(max(l.Most-lags.Most, lags.Least-l.Least)))
	}
	return most, nil
}
