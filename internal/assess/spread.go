// SPDX-License-Identifier: Apache-2.0

package assess

import (
	"errors"
	"math"

	"boardhand/internal/budget"
	"boardhand/internal/coupling"
	"boardhand/internal/drag"
	"boardhand/internal/game"
)

// well is what is taken with the reserve of a line that passes.
func well(a budget.Allowance) float64 { return a.Mean + wellSigmas*a.Sigma }

// bear re-judges a line with what its builds lack: it passes with wellSigmas in reserve and
// fails below leastSigmas. What it allowed for errors before is allowed for anew.
func bear(less budget.Allowance, on Check, before float64) Check {
	return on.Spread(less.Mean-before, less.Sigma, leastSigmas, wellSigmas)
}

// builds are the machines that are built of a study's rig: what they lack of its margins.
type builds struct{ *study }

// errors is the rig's budget; a grade that is wrong is pull.hold's to say.
func (s builds) errors() budget.Budget {
	b, _ := budget.Of(s.Rig)
	return b
}

// magnets is how many pieces of a kind hold one.
func (s builds) magnets(k game.Kind) int {
	n := coupling.Count(s.Rig, k)
	if s.Rig.Pieces.Carried == "both" {
		n *= 2
	}
	return n
}

// held is by which share of a piece's friction the worst of all pieces may need more of the
// pull: weight is the part of that friction that goes with its weight, slope by which share
// the grip falls with the gap, per metre. A lighter piece needs less, but there are more of
// them, each with a pad of its own.
func (s builds) held(m piece, weight, slope float64) budget.Allowance {
	b := s.errors()
	var all []budget.Crowd
	for _, k := range s.pieces {
		part := weight * float64(k.Mass/m.Mass)
		needs := 1 - weight + part
		own := math.Hypot(needs*b[budget.Pads].Sigma(), part*math.Hypot(b[budget.Mass].Sigma(), b[budget.Discs].Sigma()))
		all = append(all, budget.Crowd{Count: s.magnets(k.kind), Allowance: budget.Allowance{Mean: needs - 1, Sigma: own}})
	}
	return budget.Largest(all).And(s.alikeForAll(coupling.Off{Friction: 1, Strength: weight, Gap: slope}))
}

// likeIt is how many pieces with a magnet weigh about what a piece does.
func (s builds) likeIt(m piece) (n int) {
	for _, k := range s.pieces {
		if r := float64(k.Mass / m.Mass); r > 1/alike && r < alike {
			n += s.magnets(k.kind)
		}
	}
	return n
}

// grip is by which share friction may be more against the pull, or less, for the worst of
// the pieces like m.
func (s builds) grip(m piece) budget.Allowance { return s.friction(m).And(s.strength(m)) }

// friction is by which share it may differ: the board's alike for all, the base's of its own.
func (s builds) friction(m piece) budget.Allowance {
	b := s.errors()
	return budget.WorstOf(s.likeIt(m), b[budget.Pads].Sigma()).And(budget.Allowance{Sigma: b[budget.Friction].Sigma()})
}

// strength is by which share a piece's weight over the pull may differ: force model, gap and
// remanences alike for all, mass and disc of its own for each.
func (s builds) strength(m piece) budget.Allowance {
	b := s.errors()
	of := budget.WorstOf(s.likeIt(m), math.Hypot(b[budget.Mass].Sigma(), b[budget.Discs].Sigma()))
	for _, sigma := range []float64{b[budget.Model].Sigma(), s.soft * b[budget.Gap].Sigma()} {
		of = of.And(budget.Allowance{Sigma: sigma})
	}
	return of
}

// harder is what a quantity of a piece loses where friction is more and the pull is less.
func (s builds) harder(m piece, of func(drag.Stand) (float64, error)) (budget.Allowance, error) {
	st := s.stand(m)
	friction, strength := s.friction(m), s.strength(m)
	is, err := of(st)
	if err != nil {
		return budget.Allowance{}, err
	}
	rough, err := of(loosened(st, well(friction)))
	if err != nil {
		return budget.Allowance{}, err
	}
	st.Pull = drag.Scaled{Puller: st.Pull, Times: 1 / (1 + well(strength))}
	weak, err := of(st)
	return over(is-rough, friction).And(over(is-weak, strength)), err
}

// places is what carriage and standing piece are off together, metres. A way goes down the
// middle between two pieces as they are seen, so that half the difference of what a person
// left them off by counts.
func (s builds) places() budget.Allowance {
	b := s.errors()
	return budget.Either(b[budget.Placement]).And(budget.Either(b[budget.Camera])).And(budget.Either(b[budget.Person]).Times(math.Sqrt(0.5)))
}

// over turns what a quantity loses where friction is off by all of a grip's reserve into an
// allowance: it is taken to lose in proportion.
func over(lost float64, of budget.Allowance) budget.Allowance {
	return of.Times(math.Max(0, lost) / well(of))
}

// loosened is a piece over the magnet on friction more by a share.
func loosened(st drag.Stand, by float64) drag.Stand {
	st.Static, st.Kinetic = st.Static*(1+by), st.Kinetic*(1+by)
	return st
}

// drift is how much farther a piece is off its path where friction is off by all of its
// reserve, either way, metres.
func (s builds) drift() (lag float64, err error) {
	for _, m := range s.extremes() {
		stray, wrong := s.Stray(m.kind, s.lags, well(s.grip(m)))
		lag, err = math.Max(lag, stray), errors.Join(err, wrong)
	}
	return lag, err
}

// rests is by how much the piece that rests farthest off does so farther than as drawn,
// metres: its quantiles at the limits of the verdicts are those of the distribution, which
// has two tails, since pieces stop too near and too far.
func (s builds) rests() (out budget.Allowance, err error) {
	b := s.errors()
	by := coupling.Off{Friction: leastSigmas * b[budget.Friction].Sigma(), Strength: leastSigmas * b[budget.Model].Sigma(), Gap: leastSigmas * b[budget.Gap].Sigma()}
	light, heavy := s.lightest(), pieceOf(s.Rig, s.Heaviest())
	first, err := s.Ends(light.kind, s.settle.Lead, by)
	if err != nil {
		return out, err
	}
	last, err := s.Ends(heavy.kind, s.settle.Lead, by)
	if err != nil {
		return out, err
	}
	var tails [2]budget.Allowance
	for i := range tails {
		tails[i] = s.tail(func(m piece) coupling.End {
			if heavy.Mass == light.Mass {
				return last[i]
			}
			return first[i].Between(last[i], float64((m.Mass-light.Mass)/(heavy.Mass-light.Mass)))
		}, [2]coupling.End{first[i], last[i]}[i])
	}
	fails, passes := budget.Quantile(tails, b[budget.Placement], leastSigmas), budget.Quantile(tails, b[budget.Placement], wellSigmas)
	out.Sigma = (passes - fails) / (wellSigmas - leastSigmas)
	out.Mean = fails - leastSigmas*out.Sigma - float64(s.settle.Error)
	return out, nil
}

// tail is how far off the middle one end of the resting places of all pieces is, without the
// carriage's own place: what is alike for all moves them as it does the piece at this end.
func (s builds) tail(of func(piece) coupling.End, all coupling.End) budget.Allowance {
	b := s.errors()
	var pieces []budget.Crowd
	for _, m := range s.pieces {
		e := of(m)
		own := math.Hypot(e.Friction*b[budget.Pads].Sigma(), e.Strength*math.Hypot(b[budget.Mass].Sigma(), b[budget.Discs].Sigma()))
		c := budget.Crowd{Count: s.magnets(m.kind), Allowance: budget.Allowance{Mean: e.At, Sigma: own}}
		if b[budget.Glue].Shape == budget.Uniform {
			c.Most = b[budget.Glue].Within
		} else {
			c.Allowance = c.And(budget.Either(b[budget.Glue]))
		}
		pieces = append(pieces, c)
	}
	return budget.Largest(pieces).And(s.alikeForAll(all.Off))
}

// alikeForAll is what the deviations that a machine's pieces share take of a quantity that
// loses so much by each.
func (s builds) alikeForAll(by coupling.Off) (out budget.Allowance) {
	b := s.errors()
	out.Sigma = math.Hypot(by.Friction*b[budget.Friction].Sigma(), by.Gap*b[budget.Gap].Sigma())
	for _, k := range [3]budget.Key{budget.Model, budget.RemanenceLift, budget.RemanencePieces} {
		out.Sigma = math.Hypot(out.Sigma, by.Strength*b[k].Sigma())
	}
	return out
}

// widths is what the widest or the narrowest base of a kind is off, metres.
func (s builds) widths(k game.Kind) budget.Allowance {
	return budget.WorstOf(2*coupling.Count(s.Rig, k), s.errors()[budget.Base].Sigma())
}
