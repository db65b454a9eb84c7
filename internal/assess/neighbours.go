// SPDX-License-Identifier: Apache-2.0

package assess

import (
	"errors"
	"fmt"
	"math"

	"boardhand/internal/budget"
	"boardhand/internal/coupling"
	"boardhand/internal/drag"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// lane is half a square: what separates the edge line from a standing piece.
func lane(r *rig.Rig) float64 { return mm(r.Board.Square) / 2 }

// judgeRaised asks from how far the raised magnet drags a standing piece.
func (s *study) judgeRaised() Check {
	c := Check{ID: "neighbours.raised", Title: "Raised magnet passing a standing piece", Unit: "mm",
		Formula: "offset beyond which |lateral pull| < μs·max(0, m·g + axial pull), plus the errors of both places",
		Source:  besselSource + "; " + coulomb, Range: forceRange}
	if s.err != nil {
		return c.Open("pull.hold")
	}
	m := s.lightest()
	p, less, err := s.beside.raised(s, m)
	if err != nil {
		return c.Failed(err)
	}
	errors := mm(s.placement() + doubt(s.Rig))
	value := mm(p.Safe) + errors
	c = c.AtMost(value, lane(s.Rig), lane(s.Rig))
	c.Why = fmt.Sprintf("a standing %s (%v) is dragged within %.1f mm of the magnet's axis, %.1f mm with the errors of both places; lanes along the edges pass at %.1f mm",
		m.name, m.Mass, mm(p.Safe), value, lane(s.Rig))
	places, half := builds{s}.places(), lane(s.Rig)*1e-3
	less = less.And(places)
	room := half - float64(p.Safe)
	if most := math.Min((room-less.Mean)/less.Sigma, farthestJump); most > 0 {
		z, err := builds{s}.jump(m, half-places.Mean, most)
		if err != nil {
			return c.Failed(err)
		}
		if z < most {
			less.Sigma = (room - less.Mean) / z
		}
	}
	c = bear(less.Times(1e3), c, errors)
	c.Explain = fmt.Sprintf("The magnet that carries one piece passes others. A strong pair reaches far: outside a ring around the magnet its axial force turns into a push up that takes weight off the base (here down to %.0f %% at %.1f mm), so friction falls just where the sideways force still acts. "+
		"The strong magnet is the one that fails here. Smaller foot magnets help most.", 100*p.Normal/(float64(m.Mass)*drag.Gravity), mm(p.LiftAt))
	return c
}

// judgeLowered asks whether the lowered magnet passes under all pieces.
func (s *study) judgeLowered() Check {
	c := Check{ID: "neighbours.lowered", Title: "Drop of the lowered magnet", Unit: "mm",
		Formula: "least drop at which |lateral pull| < μs·max(0, m·g + axial pull) at every offset",
		Source:  besselSource + "; " + coulomb, Range: forceRange}
	if s.err != nil {
		return c.Open("pull.hold")
	}
	m := s.lightest()
	st := s.stand(m)
	low := s.Spread
	low.Near = s.nearest() // the lowered magnet follows no warp
	least, err := st.WorstDrop(low, st.Static)
	if err != nil {
		return c.Failed(fmt.Errorf("no drop up to 60 mm is enough for the %s: use weaker magnets", m.name))
	}
	drop := mm(s.Rig.Lift.Drop)
	grip := builds{s}.grip(m)
	careful, err := st.WorstDrop(low, st.Static/(1+well(grip)))
	if err != nil {
		careful = deepestDrop
	}
	c = c.AtLeast(drop, mm(least), mm(least))
	c.Why = fmt.Sprintf("lowered by %.1f mm the magnet passes under a standing %s (%v); it must drop %.1f mm not to drag it", drop, m.name, m.Mass, mm(least))
	c = bear(over(float64(careful-least), grip).Times(1e3), c, 0)
	c.Explain = fmt.Sprintf("Between carries the magnet travels lowered, straight under standing pieces. At a gap of %.1f mm the largest sideways pull must stay below friction at the base, for strong magnets and the board bowed down. Force falls steeply with the gap, so a few millimetres decide.",
		mm(low.Near)+drop)
	return c
}

// judgeFeet asks from how far a carried piece pushes a standing one.
func (s *study) judgeFeet() Check {
	c := Check{ID: "neighbours.feet", Title: "Carried foot magnet passing a standing one", Unit: "mm",
		Formula: "distance beyond which |lateral pull − repulsion of the bases| + repulsion of one more base a square away < μs·max(0, m·g + axial pull), plus the errors of both places",
		Source:  "direct integration over the charged discs; far off 3μ0m²/(4πr⁴), Griffiths, Introduction to Electrodynamics; " + coulomb,
		Range:   "magnets not touching; a real pair within 15 %"}
	if s.err != nil {
		return c.Open("pull.hold")
	}
	if raised := s.judgeRaised(); raised.Verdict == Fail && raised.AsDrawn() < 0 {
		return c.Open("neighbours.raised")
	}
	m := s.lightest()
	foot, err := coupling.PushesOf(s.Pair.Upper, offsetsTo)
	if err != nil {
		return c.Failed(err)
	}
	safe, err := s.besideFeet(m, foot)
	if err != nil {
		return c.Failed(err)
	}
	errors := mm(s.placement() + doubt(s.Rig))
	c = c.AtMost(safe[0]+errors, lane(s.Rig), lane(s.Rig))
	c.Why = fmt.Sprintf("magnet and carried base together push a standing %s (%v) along within %.1f mm, %.1f mm with the errors of both places; a carried piece passes at %.1f mm",
		m.name, m.Mass, safe[0], c.Value, lane(s.Rig))
	c = bear(over(safe[1]-safe[0], builds{s}.friction(m)).And(over(safe[2]-safe[0], builds{s}.strength(m))).And(builds{s}.places().Times(1e3)), c, errors)
	c.Explain = fmt.Sprintf("All foot magnets stand the same way up, so bases repel, and beyond its ring the drive magnet pushes the same way. The push of two bases falls with the fourth power of their distance: %.1f mN at half a square, while friction holds the %s with %.1f mN at most.",
		1e3*s.Spread.Strong*foot.Force(lane(s.Rig)*1e-3), m.name, 1e3*s.stand(m).Static*weightOf(m))
	return c
}

// besides are what passes do to a standing piece, worked out when first asked for: only the
// magnets, and for two bases the square, change it.
type besides struct {
	passing drag.Passing
	less    budget.Allowance
	known   bool
	feet    map[unit.Length][3]float64 // by the square: as drawn, with less friction, with stronger magnets
}

// raised is the raised magnet passing a piece, and what builds have it pass farther off:
// with less friction, and with a stronger pull, which takes weight off besides.
func (b *besides) raised(s *study, m piece) (drag.Passing, budget.Allowance, error) {
	if b.known {
		return b.passing, b.less, nil
	}
	st, friction, strength := s.stand(m), builds{s}.friction(m), builds{s}.strength(m)
	p, err := st.WorstNeighbour(s.Spread, st.Static)
	if err != nil {
		return p, b.less, err
	}
	smooth, err1 := builds{s}.besideAt(m, well(friction), 0)
	strong, err2 := builds{s}.besideAt(m, 0, well(strength))
	b.passing, b.known = p, true
	b.less = over(float64(smooth-p.Safe), friction).And(over(float64(strong-p.Safe), strength))
	return p, b.less, errors.Join(err1, err2)
}

// besideAt is the safe distance with friction less and the pull stronger by a share.
func (s builds) besideAt(m piece, less, more float64) (unit.Length, error) {
	st := s.stand(m)
	st.Pull = drag.Scaled{Puller: st.Pull, Times: 1 + more}
	p, err := st.WorstNeighbour(s.Spread, st.Static/(1+less))
	return p.Safe, err
}

// jump is after how many standard deviations of friction and strength together, of most
// that are looked at, a piece is dragged from farther than far, metres. The safe distance
// jumps where the magnet's push up begins to take a piece's weight: what less friction and
// a stronger pull do for themselves does not tell it.
func (s builds) jump(m piece, far, most float64) (float64, error) {
	friction, strength := s.friction(m), s.strength(m)
	grip := friction.And(strength)
	low, high := 0.0, 2*most // as if it were dragged from beyond most
	for high-low > jumpStep {
		z := math.Min((low+high)/2, most)
		safe, err := s.besideAt(m, friction.Part(grip, z), strength.Part(grip, z))
		switch {
		case err != nil:
			return 0, err
		case float64(safe) > far:
			high = z
		case z == most:
			return most, nil
		default:
			low = z
		}
	}
	return high, nil
}

// besideFeet is the safe distance, mm, as drawn, with less friction and with stronger
// magnets, at the worst of the gap's ends and of both remanences': the drive magnet's pull
// and the bases' push work against each other, so that the weakest of one with the strongest
// of the other may be the worst.
func (s *study) besideFeet(m piece, foot coupling.Pushes) (safe [3]float64, err error) {
	square := s.Rig.Board.Square
	if k, ok := s.beside.feet[square]; ok {
		return k, nil
	}
	st := s.stand(m)
	less, more := 1+well(builds{s}.friction(m)), 1+well(builds{s}.strength(m))
	feet := [2]float64{s.feetSpread[0] * s.feetSpread[0], s.feetSpread[1] * s.feetSpread[1]}
	for i := range 8 {
		base, drive := feet[i&1], s.driveSpread[i>>1&1]*s.feetSpread[i&1]
		st.Gap = [2]unit.Length{s.Spread.Near, s.Spread.Far}[i>>2]
		for k, of := range [3]struct{ friction, strength float64 }{{1, 1}, {less, 1}, {1, more}} {
			b := base * of.strength
			st.Pull = coupling.Passer{Puller: drag.Scaled{Puller: s.table, Times: drive * of.strength}, Foot: foot, Times: b, Away: b * foot.Force(float64(square))}
			p, err := st.Neighbour(st.Static / of.friction)
			if err != nil {
				return safe, err
			}
			safe[k] = math.Max(safe[k], mm(p.Safe))
		}
	}
	s.beside.feet[square] = safe
	return safe, nil
}

// judgeRelief asks how much weight is left on a base beside the magnet.
func (s *study) judgeRelief() Check {
	c := Check{ID: "neighbours.lift", Title: "Weight left on a base beside the magnet", Unit: "%",
		Formula: "(m·g + axial pull)/(m·g), least at or beyond half a square", Source: besselSource, Range: forceRange}
	if s.err != nil {
		return c.Open("pull.hold")
	}
	m := s.lightest()
	st := s.stand(m)
	st.Gap = s.Spread.Near
	least, at := math.Inf(1), 0.0
	for x := lane(s.Rig) * 1e-3; x < offsetsTo; x += weightStep {
		p, err := s.table.At(float64(st.Gap), x)
		if err != nil {
			return c.Failed(err)
		}
		p.Axial *= s.Spread.Strong
		if n := 1 + p.Axial/weightOf(m); n < least {
			least, at = n, x
		}
	}
	c = c.AtLeast(100*least, 0, easyWeight)
	c.Why = fmt.Sprintf("beside the raised magnet a %s keeps %.0f %% of its weight at %.1f mm", m.name, 100*least, at*1e3)
	if least < 0 {
		c.Why = fmt.Sprintf("beside the raised magnet a %s is lifted with %.1f times its weight at %.1f mm", m.name, 1-least, at*1e3)
	}
	c.Explain = "Near the ring around a magnet its field points the other way, and the axial force pushes the base up instead of pulling it down. A base that carries a tenth of its weight hops and turns at the slightest touch."
	return c
}
