// SPDX-License-Identifier: Apache-2.0

package diagnosis

import (
	"fmt"
	"math"

	"boardhand/internal/coupling"
	"boardhand/internal/drag"
	"boardhand/internal/magnet"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// physics is what the formulas say of one rig.
type physics struct {
	kinds   map[string]kindPhysics // by name
	least   string                 // name of the lightest kind
	raised  float64                // m: a raised magnet moves standing pieces nearer than this
	scatter float64                // m, per coordinate: of arrivals, by the spread of the lag
	field   float64                // side of the playing field, m
	square  float64                // side of a square, m
	origin  Spot                   // from the switches to the field's centre, m
	carries func(side string) bool // whether the pieces of a side have magnets
}

// kindPhysics is what they say of one kind of piece.
type kindPhysics struct {
	base    float64   // diameter, m
	slips   []float64 // chance that it does not follow, for each of strengths
	stays   float64   // chance that an upside-down magnet does not move it
	flight  float64   // m: an upside-down magnet pushes it as far
	wanders float64   // m: how far a magnet too weak may still draw it
}

// strengths of a weak drive magnet over a sound one that are weighed against
// one another, all equally likely: from one that is lost to one that a piece
// of the heaviest kind may slip from.
var strengths = []float64{0, 0.03, 0.05, 0.065, 0.08, 0.1, 0.125, 0.16, 0.22, 0.35, 0.6}

func physicsOf(r *rig.Rig) (physics, error) {
	out := physics{kinds: map[string]kindPhysics{}, field: float64(r.Board.Field()), square: float64(r.Board.Square),
		origin: Spot{X: float64(r.Axis.X.Origin), Y: float64(r.Axis.Y.Origin)}, carries: r.Pieces.Carries}
	c, gaps, err := coupled(r)
	if err != nil {
		return out, err
	}
	var lags drag.Lags
	out.least = r.Pieces.Kinds().Name(c.Lightest())
	for _, kind := range r.Pieces.Kinds().All() {
		s, name := c.Stand(kind), r.Pieces.Kinds().Name(kind)
		if err := s.Check(); err != nil {
			return out, fmt.Errorf("%s: %w", name, err)
		}
		k, err := kindOf(s, gaps)
		if err != nil {
			return out, fmt.Errorf("%s: %w", name, err)
		}
		k.base = float64(r.Pieces.Of(kind).Base)
		out.kinds[name] = k
		if err := out.widen(s, gaps, &lags); err != nil {
			return out, fmt.Errorf("%s: %w", name, err)
		}
	}
	// The carriage leads by the middle of the lags; their ends are two standard
	// deviations off. What a rule and a homing switch leave comes on top of it.
	out.scatter = math.Hypot(float64(lags.Most-lags.Least)/4, homing)
	return out, nil
}

// widen takes one kind into the reach of the raised magnet and the lags.
func (p *physics) widen(s drag.Stand, gaps [3]float64, lags *drag.Lags) error {
	n, err := s.Neighbour(s.Static)
	if err != nil {
		return err
	}
	p.raised = math.Max(p.raised, float64(n.Safe))
	l, err := s.LagRange(drag.Spread{Weak: 1, Strong: 1, Near: unit.Length(gaps[0]), Far: unit.Length(gaps[2])}, s.Kinetic, 0)
	if err != nil { // this rig's own magnets are too weak: the slips will tell
		return nil
	}
	if lags.Most == 0 || l.Least < lags.Least {
		lags.Least = l.Least
	}
	lags.Most = max(lags.Most, l.Most)
	return nil
}

// coupled is the rig's coupling with its force law tabulated, and its gaps over
// the warp: least, middle, most.
func coupled(r *rig.Rig) (coupling.Coupling, [3]float64, error) {
	c, err := coupling.Of(r)
	if err != nil {
		return c, [3]float64{}, err
	}
	gaps := [3]float64{float64(c.Spread.Near), float64(r.Gap()), float64(c.Spread.Far)}
	const slack = 0.05e-3 // m: a map needs two gaps
	c.Reach = unit.Length(lookedAt)
	c.Pull, err = magnet.NewMap(c.Pair.Lower, c.Pair.Upper, magnet.MapRange{GapFrom: unit.Length(gaps[0] - slack), GapTo: unit.Length(gaps[2] + slack),
		OffsetTo: unit.Length(lookedAt + lookedStep), Gaps: 8, Offsets: 100})
	return c, gaps, err
}

// kindOf works out how one kind behaves under sound, weak and upside-down magnets.
func kindOf(s drag.Stand, gaps [3]float64) (kindPhysics, error) {
	k := kindPhysics{slips: make([]float64, len(strengths))}
	for i, strong := range strengths {
		for _, gap := range gaps {
			bears, err := borne(s, gap, strong)
			if err != nil {
				return k, err
			}
			k.slips[i] += fails(bears/s.Static) / float64(len(gaps))
		}
	}
	bears, err := borne(s, gaps[1], -1)
	if err != nil {
		return k, err
	}
	k.stays = fails(bears / s.Static)
	flipped := s
	flipped.Pull = drag.Scaled{Puller: s.Pull, Times: -1}
	away, err := flipped.Neighbour(s.Static)
	if err != nil {
		return k, err
	}
	k.flight = math.Max(float64(away.Safe), homing)
	held, err := s.Best(s.Static)
	k.wanders = math.Max(float64(held.Offset), homing)
	return k, err
}

// fails is the chance that what bears share times the nominal friction meets
// more friction than it bears: both log-normal.
func fails(share float64) float64 {
	if share <= 0 {
		return 1
	}
	return normalBelow(-math.Log(share) / math.Hypot(frictionSpread, forceSpread))
}

// borne is the largest friction coefficient against which a magnet of a
// relative strength still moves the piece, at the best offset: lateral over
// weight plus axial pull. Below zero the magnet is upside down and moves the
// piece away. Range: the offsets looked at. Source: Coulomb friction.
func borne(s drag.Stand, gap, strength float64) (float64, error) {
	const endless = 1e3 // where the pull carries the whole weight
	most := 0.0
	for x := 0.0; x <= lookedAt; x += lookedStep {
		p, err := s.Pull.At(gap, x)
		if err != nil {
			return 0, err
		}
		p = magnet.Pull{Axial: strength * p.Axial, Lateral: strength * p.Lateral}
		if strength < 0 {
			p.Lateral = math.Abs(p.Lateral)
		}
		if n := s.Normal(p); n > 0 {
			most = math.Max(most, p.Lateral/n)
		} else {
			most = endless
		}
	}
	return math.Min(most, endless), nil
}

// of is the physics of a kind; a kind nobody knows counts as the lightest.
func (p physics) of(kind string) kindPhysics {
	if k, ok := p.kinds[kind]; ok {
		return k
	}
	return p.kinds[p.least]
}

// normalBelow is the chance that a standard normal variable is below x.
func normalBelow(x float64) float64 { return math.Erfc(-x/math.Sqrt2) / 2 }

// arrives is the standard deviation of an arrival per coordinate, m: of the
// machine and of the picture.
func (p physics) arrives(sigma float64) float64 { return math.Hypot(sigma, p.scatter) }
