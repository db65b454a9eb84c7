// SPDX-License-Identifier: Apache-2.0

// Package yield draws builds of one rig from its error budget and says how many of them
// work: line by line and for a whole game, with what is left over in standard deviations,
// the tolerances that matter most, and the worst case beside it.
//
// What magnets do to pieces is worked out build by build and piece by piece, with the
// functions of package drag; a build reuses the one table of forces of the rig, cut at
// its own gap. All other lines of assess go by their slopes over each tolerance. Like the
// formulas under them both are arithmetic: no files, no clock, chance comes as a seed.
package yield

import (
	"fmt"

	"boardhand/internal/assess"
	"boardhand/internal/budget"
	"boardhand/internal/coupling"
	"boardhand/internal/drag"
	"boardhand/internal/magnet"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// Model is a rig with what all its builds share.
type Model struct {
	rig     *rig.Rig
	budget  budget.Budget
	couple  coupling.Coupling
	table   *magnet.Map
	from    float64 // the table's gaps, m
	to      float64
	deep    float64 // m: gap of the lowered magnet where the sheet bows down
	reach   float64 // m: beyond it the magnet only pushes
	beside  float64 // m: how far out standing pieces are looked at
	lead    float64 // m: as the machine plans it
	lag     float64
	pushes  coupling.Pushes
	tips    [3]drag.Loads // at three gaps about the nearest
	pieces  []piece
	slopes  []sloped
	ids     []string // of all lines
	titles  []string
	units   []string
	certain []assess.Check // lines on which no tolerance bears
}

// Of makes the model of a rig. The error says what keeps every build from working.
func Of(r *rig.Rig, b budget.Budget) (*Model, error) {
	m := &Model{rig: r, budget: b, pieces: population(r)}
	study := assess.Begin(m.middle(), nil)
	checks := study.All()
	for _, c := range checks {
		if c.ID == "pull.hold" && !(c.Value > 0) {
			return nil, fmt.Errorf("no build can be judged: %s", c.Why)
		}
	}
	if err := m.forces(); err != nil {
		return nil, err
	}
	if err := m.plan(); err != nil {
		return nil, fmt.Errorf("the machine as drawn cannot carry its pieces, so no builds are drawn: %w", err)
	}
	m.name(checks)
	m.findSlopes(study, checks)
	return m, nil
}

// middle is the rig with magnets exactly at the middle of their grades: what a grade
// leaves open is in the budget.
func (m *Model) middle() *rig.Rig {
	r := *m.rig
	for _, g := range []*string{&r.Lift.Grade, &r.Pieces.Magnet.Grade} {
		if lo, hi, err := magnet.Grade(*g); err == nil {
			*g = fmt.Sprintf("%.6f T", (lo+hi)/2)
		}
	}
	return &r
}

// forces makes the table of forces and what else hangs on the magnets alone.
func (m *Model) forces() (err error) {
	if m.couple, err = coupling.Of(m.middle()); err != nil {
		return err
	}
	near, _ := coupling.Bowed(m.rig, 0)
	m.deep = max(leastGap, float64(near)) + float64(m.rig.Lift.Drop)
	s, spare := m.couple.Spread, tableSpare*m.budget[budget.Gap].Sigma()
	m.from = max(leastGap, float64(s.Near)-spare)
	m.to = max(m.deep, float64(s.Far+m.rig.Lift.Drop)) + spare
	m.table, err = magnet.NewMap(m.couple.Pair.Lower, m.couple.Pair.Upper, magnet.MapRange{GapFrom: unit.Length(m.from * 0.98),
		GapTo: unit.Length(m.to * 1.02), OffsetTo: 0.081, Gaps: tableGaps, Offsets: tableOffsets})
	if err != nil {
		return err
	}
	m.couple.Pull = m.table
	m.reach = m.pullEnds() + beyondPull
	m.beside = min(0.08, m.lane()+beyondLane)
	if m.pushes, err = coupling.PushesOf(m.couple.Pair.Upper, max(m.beside, float64(m.rig.Board.Square))); err != nil {
		return err
	}
	return nil
}

// lane is half a square, metres.
func (m *Model) lane() float64 { return float64(m.rig.Board.Square) / 2 }

// pullEnds is the offset, metres, at which the pull of the farthest gap turns to a push.
func (m *Model) pullEnds() float64 {
	for x := 1e-3; x < 0.077; x += 1e-3 {
		if p, err := m.table.At(min(float64(m.couple.Spread.Far)*1.2, m.to), x); err == nil && p.Lateral < 0 {
			return x
		}
	}
	return 0.077
}

// plan is what the machine reckons with: lag and lead in the middle of all that the
// grades and the warp leave open, as assess and the planner have it; and the largest
// offset in motion, for what tips a piece.
func (m *Model) plan() error {
	c, err := coupling.Of(m.rig)
	if err != nil {
		return err
	}
	c.Pull, c.Reach = m.table, unit.Length(m.reach)
	moves, err := c.Moves()
	if err != nil {
		return err
	}
	m.lead, m.lag = float64(moves.Settle.Lead), float64(moves.Lags.Least+moves.Lags.Most)/2
	surge := max(float64(moves.Settle.Lead+moves.Settle.Error), float64(moves.Surge))
	near := float64(m.couple.Spread.Near)
	for i := range m.tips {
		gap := max(m.from, near+float64(i-1)*tipStep)
		if m.tips[i], err = m.couple.Pair.Loads(unit.Length(gap), unit.Length(surge)); err != nil {
			return err
		}
	}
	return nil
}
