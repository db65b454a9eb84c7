// SPDX-License-Identifier: Apache-2.0

package assess

import (
	"fmt"
	"math"

	"boardhand/internal/budget"
	"boardhand/internal/drag"
	"boardhand/internal/unit"
)

const ownGeometry = "own geometry; common practice, no source"

// judgeLane asks whether a carried base passes between two standing ones.
func (s *study) judgeLane() Check {
	c := Check{ID: "lanes.foot", Title: "Room for a base in a lane", Unit: "mm",
		Formula: "(d + d')/2 + placement error + spread of the lag + doubt about the other's place", Source: ownGeometry, Range: "lanes along the edges of squares, pieces standing on their middles"}
	d := mm(s.widest().Across())
	extra := mm(s.placement()+doubt(s.Rig)) + mm(s.lagSpread())
	c = c.AtMost(d+extra, lane(s.Rig), lane(s.Rig))
	c.Why = fmt.Sprintf("the widest %s is %.1f mm (%s); passing another one like it takes %.1f mm from axis to axis with %.1f mm of errors, half a square is %.1f mm",
		part(s.widest()), d, s.widest().name, c.Value, extra, lane(s.Rig))
	grip := builds{s}.grip(pieceOf(s.Rig, s.Heaviest()))
	lag := budget.Either(budget.Tolerance{Shape: budget.Normal, Within: 2 * grip.Sigma * s.stray / well(grip)})
	c = bear(lag.And(builds{s}.places()).And(builds{s}.widths(s.widest().kind)).Times(1e3), c, mm(s.placement()+doubt(s.Rig)))
	c.Explain = fmt.Sprintf("Pieces are carried along the lines between squares. A standing piece is half a square away, so half of both bases and all errors must fit into %.1f mm: the carriage's own %.1f mm, the camera's doubt about the standing piece %.1f mm, and the lag, which differs by %.1f mm between pieces. "+
		"The largest base that still passes is %.1f mm, the smallest square for these bases %.1f mm.",
		lane(s.Rig), mm(s.placement()), mm(doubt(s.Rig)), mm(s.lagSpread()), math.Floor((lane(s.Rig)-extra)*10)/10, math.Ceil(2*(d+extra)*10)/10)
	return c
}

// part is what of a piece is widest.
func part(m piece) string {
	if m.Top > m.Base {
		return "top"
	}
	return "base"
}

// tipping is what the near magnet loads a base with, computed when first asked
// for: it is the same for all bases.
type tipping struct {
	done  bool
	loads drag.Loads
	err   error
}

func (t *tipping) of(s *study) (drag.Loads, error) {
	if !t.done {
		near := s.Pair
		near.Lower = near.Lower.WithBr(near.Lower.Br * unit.FluxDensity(s.Spread.Strong))
		t.loads, t.err = near.Loads(s.Spread.Near, s.surge)
		t.done = true
	}
	return t.loads, t.err
}

// judgeTip asks whether a piece stays upright when it is pulled.
func (s *study) judgeTip() Check {
	c := Check{ID: "tip.foot", Title: "Base against tipping", Unit: "mm",
		Formula: "least base: 2·(magnet's moment + lateral pull·height ± m·a·centre of mass)/(m·g + axial pull), for offsets up to the largest in motion",
		Source:  "statics; moment on the disc by direct integration over its charged faces, field by Derby and Olbert, Am. J. Phys. 78 (2010) 229", Range: forceRange}
	if !s.carries() {
		return c.Open("pull.hold")
	}
	if s.torn {
		return c.Open("drag.surge")
	}
	loads, err := s.tips.of(s)
	if err != nil {
		return c.Failed(err)
	}
	worst := math.Inf(1)
	for _, m := range s.pieces {
		t, err := s.Figure(m.kind).TipUnder(loads, s.Braking())
		if err != nil {
			return c.Failed(err)
		}
		need := math.Max(mm(t.Least), mm(s.Rig.Pieces.Magnet.Diameter))
		if ratio := mm(m.Base) / need; ratio < worst {
			worst = ratio
			c = c.AtLeast(mm(m.Base), need, need)
			c.Why = fmt.Sprintf("the %s stands on %v; %.1f mm keep it upright when the magnet is %.1f mm ahead", m.name, m.Base, mm(t.Least), mm(t.Offset))
			if mm(t.Least) < need {
				c.Why = fmt.Sprintf("the %s stands on %v and holds a magnet of %v; %.1f mm would keep it upright", m.name, m.Base, s.Rig.Pieces.Magnet.Diameter, mm(t.Least))
			}
			f := s.Figure(m.kind)
			f.Mass = unit.Mass(float64(f.Mass) / (1 + well(builds{s}.grip(m))))
			more, err := f.TipUnder(loads, s.Braking())
			if err != nil {
				return c.Failed(err)
			}
			c = bear(over(math.Max(mm(more.Least), need)-need, builds{s}.grip(m)).And(builds{s}.widths(m.kind).Times(1e3)), c, 0)
			c.Explain = fmt.Sprintf("The magnet pulls one side of the base down harder than the other and tips the %s, towards itself or, where the magnet is larger than the base's, away; speeding up at %.0f mm/s² throws it back at %.1f mm of height. Weight and pull on the base hold against that over half the base's width. "+
				"A wide light ring of card steadies a narrow base, until the lanes forbid it.", m.name, float64(s.Braking())*1e3, mm(m.Height)*m.Balance)
		}
	}
	return c
}
