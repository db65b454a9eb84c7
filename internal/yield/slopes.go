// SPDX-License-Identifier: Apache-2.0

package yield

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"boardhand/internal/assess"
	"boardhand/internal/budget"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// The lines that are worked out for each build, in this order.
const (
	hold = iota
	slip
	surge
	settle
	raised
	lowered
	feet
	lanes
	tip
	reachField
	reachRemoval
	direct
)

var directLines = [direct]string{"pull.hold", "drag.slip", "drag.surge", "drag.settle", "neighbours.raised", "neighbours.lowered",
	"neighbours.feet", "lanes.foot", "tip.foot", "reach.field", "reach.removal"}

// sloped is a line by its margin and how that changes with each tolerance.
type sloped struct {
	line   int // in the checks
	margin float64
	by     [budget.Count]float64
}

// of is the margin of a build.
func (s *sloped) of(b *build) float64 {
	v := s.margin
	for k, slope := range s.by {
		v += slope * b.machine[k]
	}
	return v
}

// turned is the rig with one tolerance off by d, metres or a share; false for tolerances
// that no number of the rig stands for.
func (m *Model) turned(k budget.Key, d float64) (*rig.Rig, bool) {
	r := m.middle()
	switch k {
	case budget.Gap:
		r.Board.Thickness += unit.Length(d)
	case budget.Hang:
		r.Camera.Height += unit.Length(d)
	case budget.Friction:
		r.Board.Friction *= 1 + d
		r.Board.Kinetic *= 1 + d
	case budget.RemanenceLift:
		r.Lift.Grade = stronger(r.Lift.Grade, d)
	case budget.RemanencePieces:
		r.Pieces.Magnet.Grade = stronger(r.Pieces.Magnet.Grade, d)
	case budget.Spring:
		r.Lift.Preload *= unit.Force(1 + d)
	case budget.Motor:
		r.Axis.X.Motor.StallTorque *= unit.Torque(1 + d)
		r.Axis.Y.Motor.StallTorque *= unit.Torque(1 + d)
	default:
		return nil, false
	}
	return r, true
}

// findSlopes looks how each line that is not computed build by build changes with each
// tolerance; those that none changes are certain.
func (m *Model) findSlopes(like *assess.Study, checks []assess.Check) {
	all := make([]sloped, len(checks))
	for i := range all {
		all[i] = sloped{line: i, margin: checks[i].AsDrawn()}
	}
	for k := range budget.Count {
		d := slopeSigmas * m.budget[k].Sigma()
		up, ok := m.turned(budget.Key(k), d)
		if !ok || d == 0 {
			continue
		}
		down, _ := m.turned(budget.Key(k), -d)
		more, less := assess.Begin(up, like), assess.Begin(down, like)
		for i, c := range checks {
			if !isSloped(c) {
				continue
			}
			if a, b := more.Line(i), less.Line(i); a.Applies() && b.Applies() {
				all[i].by[k] = (a.AsDrawn() - b.AsDrawn()) / (2 * d)
			}
		}
	}
	for i, c := range checks {
		if !isSloped(c) {
			continue
		}
		if !c.Applies() || isFlat(all[i].by, m.budget, c) {
			m.certain = append(m.certain, c)
			continue
		}
		m.slopes = append(m.slopes, all[i])
		m.ids, m.titles, m.units = append(m.ids, c.ID), append(m.titles, c.Title), append(m.units, c.Unit)
	}
}

// isSloped says whether a line goes by its slopes: it is not computed build by build, and
// is no caution, which stops no game.
func isSloped(c assess.Check) bool {
	return !slices.Contains(directLines[:], c.ID) && !strings.HasPrefix(c.ID, "caution.")
}

// isFlat says whether no tolerance moves a line's margin by what three digits show.
func isFlat(by [budget.Count]float64, of budget.Budget, c assess.Check) bool {
	moves := 0.0
	for k, slope := range by {
		moves += math.Abs(slope) * of[k].Sigma()
	}
	return moves < 1e-6*max(math.Abs(c.Limit), math.Abs(c.Value))
}

// name lists the lines that are worked out for each build.
func (m *Model) name(checks []assess.Check) {
	for _, id := range directLines {
		i := slices.IndexFunc(checks, func(c assess.Check) bool { return c.ID == id })
		m.ids, m.titles, m.units = append(m.ids, id), append(m.titles, checks[i].Title), append(m.units, checks[i].Unit)
	}
	m.units[hold], m.units[lowered] = "×", "mN"
}

// stronger is a remanence more by a share, as a rig file has it.
func stronger(grade string, share float64) string {
	var br unit.FluxDensity
	_ = br.UnmarshalText([]byte(grade)) // m.middle wrote it
	return fmt.Sprintf("%.6f T", float64(br)*(1+share))
}
