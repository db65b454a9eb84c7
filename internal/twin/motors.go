// SPDX-License-Identifier: Apache-2.0

package twin

import (
	"boardhand/internal/frame"
	"boardhand/internal/motion"
	"boardhand/internal/twin/mechanics"
)

// Motors are the axes and the lift of the twin, turned by a controller from outside
// instead of by the twin's own Gantry: the magnet is where they truly turned.
type Motors struct {
	w     *World
	at    frame.Spot[frame.Machine] // where the axes' motors were turned to, m
	lift  float64                   // and the lift's, 0 lowered … 1 raised
	held  bool                      // the lift catches, with its fault
	rest  float64                   // s that are no whole step yet
	since float64                   // s since the carriage was last looked at for a hand that it touches …
	from  frame.Spot[frame.Machine] // … and where it was then, m

	grips  bool    // the lift has moved in this motion
	behind float64 // s for which an axis has not followed
	failed bool    // and did not for long
}

// Motors gives the handle to the motors; then nobody may use a Gantry.
func (w *World) Motors() *Motors {
	w.mu.Lock()
	defer w.mu.Unlock()
	return &Motors{w: w, at: w.carriage.Motors(), lift: w.carriage.Lift}
}

// At is where the axes' motors stand, m.
func (m *Motors) At() frame.Spot[frame.Machine] { return m.at }

// Begin notes that a motion begins; a stroke without a path is homing, or the lift's.
func (m *Motors) Begin(s motion.Stroke) {
	w := m.w
	w.mu.Lock()
	defer w.mu.Unlock()
	w.table.BeginStroke()
	m.grips, m.failed, m.behind = false, false, 0
	if w.carriage.Lift == 1 && len(s.Path) > 0 {
		w.count.Strokes++
		w.spill(s)
		w.person.Meddle()
	}
	w.moving.Store(true)
}

// End notes that a motion has ended: the pieces come to rest.
func (m *Motors) End() {
	w := m.w
	w.mu.Lock()
	defer w.mu.Unlock()
	w.settle()
	w.keep()
	if m.grips {
		w.table.TakeGrip(w.magnet())
	}
	if m.failed {
		w.count.Stalls++
	}
	w.endStroke()
	w.moving.Store(false)
}

// Turn lets seconds of world time pass in which the motors turn evenly to a place,
// metres from where homing leaves them, and the lift to a share of its way.
func (m *Motors) Turn(to frame.Spot[frame.Machine], lift, seconds float64) {
	w := m.w
	w.mu.Lock()
	defer w.mu.Unlock()
	m.hoist(lift)
	steps := int((m.rest + seconds) / mechanics.Step)
	from, way := m.at, to.Sub(m.at)
	for i := range steps {
		m.raise(m.lift+float64(i+1)/float64(steps)*(lift-m.lift), lift > m.lift)
		load, down := w.advance()
		turned := (float64(i+1)*mechanics.Step - m.rest) / seconds // by the end of this step, not of the turn
		if m.behind += mechanics.Step; w.drive(from.Add(way.Scale(turned)), load, down) {
			m.behind = 0
		}
		m.failed = m.failed || m.behind > stalledFor
		w.table.WatchGrip(w.magnet())
	}
	m.rest += seconds - float64(steps)*mechanics.Step
	m.at = to
	if steps > 0 {
		m.raise(lift, lift > m.lift)
		m.lift = lift
		m.pass(float64(steps) * mechanics.Step)
	}
}

// pass lets time pass for the person, whose hand may be touched.
func (m *Motors) pass(seconds float64) {
	m.w.person.Pass(seconds)
	if m.since += seconds; m.since >= chunk {
		m.w.brush(m.at.Distance(m.from) * chunk / m.since)
		m.since, m.from = 0, m.at
	}
}

// raise has the lift go up, or down, to a share of its way, unless it catches.
func (m *Motors) raise(to float64, isUp bool) {
	c := m.w.carriage
	switch {
	case m.held:
	case isUp:
		c.Lift = max(c.Lift, to)
	default:
		c.Lift = min(c.Lift, to)
	}
}

// hoist notes that the lift leaves one of its ends.
func (m *Motors) hoist(to float64) {
	w := m.w
	if to == m.lift {
		return
	}
	m.grips = true
	switch {
	case m.lift == 0 && to > 0:
		w.lifted()
		if m.held = w.carriage.Catches(true); m.held {
			w.acts(LiftStaysDown)
		}
	case m.lift == 1 && to < 1:
		m.held = w.carriage.Catches(false)
	}
}
