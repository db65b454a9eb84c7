// SPDX-License-Identifier: Apache-2.0

package assess

import (
	"math"

	"boardhand/internal/budget"
	"boardhand/internal/coupling"
	"boardhand/internal/drag"
	"boardhand/internal/game"
)

// allowance is by how much a line's margin is less in a built machine than as drawn, on
// the average and at one standard deviation, in the line's unit.
type allowance struct{ mean, sigma float64 }

// and adds what is independent of it. Source: JCGM 100:2008 (GUM), 5.1.2.
func (a allowance) and(b allowance) allowance {
	return allowance{a.mean + b.mean, math.Hypot(a.sigma, b.sigma)}
}

// times is the same in another unit.
func (a allowance) times(by float64) allowance { return allowance{a.mean * by, a.sigma * by} }

// well is what is taken with the reserve of a line that passes.
func (a allowance) well() float64 { return a.mean + wellSigmas*a.sigma }

// bear re-judges a line with what its builds lack: it passes with wellSigmas in reserve and
// fails below leastSigmas. What it allowed for errors before is allowed for anew.
func (c allowance) bear(on Check, before float64) Check {
	return on.Spread(c.mean-before, c.sigma, leastSigmas, wellSigmas)
}

// either is an error that hurts either way: the half-normal distribution of one with so
// many metres within two standard deviations, or half of a uniform one. Source: Leone,
// Nelson and Nottingham, Technometrics 3 (1961) 543 (from memory); JCGM 100:2008, 4.3.7.
func either(t budget.Tolerance) allowance {
	if t.Shape == budget.Uniform {
		return allowance{t.Within / 2, t.Within / math.Sqrt(12)}
	}
	return allowance{t.Sigma() * math.Sqrt(2/math.Pi), t.Sigma() * math.Sqrt(1-2/math.Pi)}
}

// worstOf is what the worst of n pieces lacks of a tolerance that each piece has of its own:
// mean and standard deviation of the largest of n normal ones, good to 4 %. Source: Blom,
// Statistical Estimates and Transformed Beta-Variables (1958) (from memory).
func worstOf(n int, sigma float64) allowance {
	m := max(1, float64(n))
	if m == 1 {
		return allowance{0, sigma}
	}
	mean := math.Sqrt2 * math.Erfinv(2*(m-0.375)/(m+0.25)-1)
	return allowance{sigma * mean, sigma / math.Sqrt(1+0.82*math.Log(m))}
}

// builds are the machines that are built of a study's rig: what they lack of its margins.
type builds struct{ *study }

// errors is the rig's budget; a grade that is wrong is pull.hold's to say.
func (s builds) errors() budget.Budget {
	b, _ := budget.Of(s.Rig)
	return b
}

// likeIt is how many pieces with a magnet weigh about what a piece does.
func (s builds) likeIt(m piece) (n int) {
	for _, k := range s.pieces {
		if r := float64(k.Mass / m.Mass); r > 1/alike && r < alike {
			n += coupling.Count(s.Rig, k.kind)
		}
	}
	if s.Rig.Pieces.Carried == "both" {
		n *= 2
	}
	return n
}

// grip is by which share friction may be more against the pull, or less, for the worst of
// the pieces like m.
func (s builds) grip(m piece) allowance { return s.friction(m).and(s.strength(m)) }

// friction is by which share it may differ: the board's alike for all, the base's of its own.
func (s builds) friction(m piece) allowance {
	b := s.errors()
	return worstOf(s.likeIt(m), b[budget.Pads].Sigma()).and(allowance{0, b[budget.Friction].Sigma()})
}

// strength is by which share a piece's weight over the pull may differ: force model, gap and
// remanences alike for all, mass and disc of its own for each.
func (s builds) strength(m piece) allowance {
	b := s.errors()
	of := worstOf(s.likeIt(m), math.Hypot(b[budget.Mass].Sigma(), b[budget.Discs].Sigma()))
	for _, sigma := range []float64{b[budget.Model].Sigma(), s.soft * b[budget.Gap].Sigma()} {
		of = of.and(allowance{0, sigma})
	}
	return of
}

// harder is what a quantity of a piece loses where friction is more and the pull is less.
func (s builds) harder(m piece, of func(drag.Stand) (float64, error)) (allowance, error) {
	st := s.stand(m)
	friction, strength := s.friction(m), s.strength(m)
	is, err := of(st)
	if err != nil {
		return allowance{}, err
	}
	rough, err := of(loosened(st, friction.well()))
	if err != nil {
		return allowance{}, err
	}
	st.Pull = drag.Scaled{Puller: st.Pull, Times: 1 / (1 + strength.well())}
	weak, err := of(st)
	return over(is-rough, friction).and(over(is-weak, strength)), err
}

// places is what carriage and standing piece are off together, metres. A way goes down the
// middle between two pieces as they are seen, so that half the difference of what a person
// left them off by counts.
func (s builds) places() allowance {
	b := s.errors()
	return either(b[budget.Placement]).and(either(b[budget.Camera])).and(either(b[budget.Person]).times(math.Sqrt(0.5)))
}

// over turns what a quantity loses where friction is off by all of a grip's reserve into an
// allowance: it is taken to lose in proportion.
func over(lost float64, of allowance) allowance {
	return of.times(math.Max(0, lost) / of.well())
}

// softness is by which share the pull falls with the gap, per metre, where it is largest.
func (s builds) softness() float64 {
	at := float64(s.Rig.Lift.Diameter) / 2
	near, err := s.Pull.At(float64(s.Spread.Far), at)
	if err != nil {
		return 0
	}
	far, err := s.Pull.At(float64(s.Spread.Far)+softStep, at)
	if err != nil || far.Lateral <= 0 || near.Lateral <= 0 {
		return 0
	}
	return math.Log(near.Lateral/far.Lateral) / softStep
}

// loosened is a piece over the magnet on friction more by a share.
func loosened(st drag.Stand, by float64) drag.Stand {
	st.Static, st.Kinetic = st.Static*(1+by), st.Kinetic*(1+by)
	return st
}

// drift is how much farther off a piece rests, and is off its path, where friction is off
// by all of its reserve, either way, metres.
func (s builds) drift() (rest, lag float64, err error) {
	for _, m := range s.extremes() {
		by := s.grip(m).well()
		for _, share := range [2]float64{by, -by / (1 + by)} {
			st := loosened(s.stand(m), share)
			t, err := st.SettleOver(s.Spread, s.Braking())
			if err == drag.ErrSlips {
				rest, lag = math.Max(rest, float64(s.Rig.Board.Square)/2), math.Max(lag, float64(s.Rig.Board.Square)/2)
				continue
			}
			if err != nil {
				return 0, 0, err
			}
			l, err := st.LagRange(s.Spread, st.Kinetic, 0)
			if err != nil {
				return 0, 0, err
			}
			rest = math.Max(rest, float64(max(t.Lead+t.Error-s.settle.Lead, s.settle.Lead-t.Lead+t.Error)-s.settle.Error))
			lag = math.Max(lag, float64(max(l.Most-s.lags.Most, s.lags.Least-l.Least)))
		}
	}
	return rest, lag, nil
}

// widths is what the widest or the narrowest base of a kind is off, metres.
func (s builds) widths(k game.Kind) allowance {
	return worstOf(2*coupling.Count(s.Rig, k), s.errors()[budget.Base].Sigma())
}
