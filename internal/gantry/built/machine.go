// SPDX-License-Identifier: Apache-2.0

// Package built is a machine as it was truly built, for test beds: axes that go
// farther or less far than their motors count, that are not square, that have play
// and ends, and a lift. Controllers turn its motors and see its switches; only tests
// see where the carriage is.
package built

import (
	"math"
	"sync"
	"time"
)

// Axis is one axis as built. Lengths mm, from one end of the axis to the other.
type Axis struct {
	PerMM    float64 // counts in a millimetre, as the controller believes
	Scale    float64 // true travel of a counted millimetre; 0: 1
	Backlash float64 // play between motor and carriage
	Length   float64 // between its ends; beyond them the motor loses its counts
	Start    float64 // where it stands when the power comes
	SwitchAt float64 // where its switch closes, from the end that it is at
	AtTop    bool    // the switch is at the far end
}

// Machine is the axes and the lift.
type Machine struct {
	Skew      float64       // of the y axis: x grows by this share of y
	LiftTime  time.Duration // that the lift takes for its whole way
	IsJammed  bool          // the lift does not move
	HasSwitch bool          // its switches work

	mu     sync.Mutex
	axes   []*axis
	lift   float64 // 0 down … 1 up, at liftAt
	raised bool
	liftAt time.Duration
	missed float64 // mm that ends took from motors
	lifts  int
}

// axis is an axis with what it has done.
type axis struct {
	Axis
	motor   float64 // mm turned, truly
	counted int64
	slack   float64
	isHeld  bool
}

// New builds a machine of two or three axes; a third one is the lift.
func New(axes ...Axis) *Machine {
	m := &Machine{LiftTime: 500 * time.Millisecond, HasSwitch: true}
	for _, a := range axes {
		if a.Scale == 0 {
			a.Scale = 1
		}
		m.axes = append(m.axes, &axis{Axis: a, motor: a.Start})
	}
	return m
}

// Turn turns a motor to a count; what its end blocks is lost.
func (m *Machine) Turn(i int, count int64) {
	m.mu.Lock()
	defer m.mu.Unlock()
	a := m.axes[i]
	by := float64(count-a.counted) / a.PerMM * a.Scale
	a.counted = count
	if a.isHeld {
		m.missed += math.Abs(by)
		return
	}
	half := a.Backlash / 2
	to := a.motor + by
	a.motor = max(-half, min(a.Length+half, to))
	m.missed += math.Abs(to - a.motor)
	a.slack = max(-half, min(half, a.slack-by))
}

// at is where an axis' part of the carriage is, mm.
func (a *axis) at() float64 { return max(0, min(a.Length, a.motor+a.slack)) }

// Carriage is where the carriage truly is, mm.
func (m *Machine) Carriage() (x, y float64) {
	m.mu.Lock()
	defer m.mu.Unlock()
	x, y = m.axes[0].at(), m.axes[1].at()
	return x + m.Skew*y, y
}

// Axes is how many axes there are.
func (m *Machine) Axes() int { return len(m.axes) }

// Axis is where one axis truly is, mm.
func (m *Machine) Axis(i int) float64 {
	m.mu.Lock()
	defer m.mu.Unlock()
	return m.axes[i].at()
}

// Blocks says whether the end of an axis holds a motor that turns this way.
func (m *Machine) Blocks(i int, way float64) bool {
	m.mu.Lock()
	defer m.mu.Unlock()
	a := m.axes[i]
	half := a.Backlash / 2
	return a.isHeld || way < 0 && a.motor <= -half || way > 0 && a.motor >= a.Length+half
}

// Hold blocks an axis where it is.
func (m *Machine) Hold(i int) {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.axes[i].isHeld = true
}

// Free lets an axis that was held go.
func (m *Machine) Free(i int) {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.axes[i].isHeld = false
}

// Missed is how far motors turned in vain, mm.
func (m *Machine) Missed() float64 {
	m.mu.Lock()
	defer m.mu.Unlock()
	return m.missed
}

// IsClosed says whether the switch of an axis is closed.
func (m *Machine) IsClosed(i int) bool {
	m.mu.Lock()
	defer m.mu.Unlock()
	if i >= len(m.axes) || !m.HasSwitch {
		return false
	}
	a := m.axes[i]
	if a.AtTop {
		return a.at() >= a.Length-a.SwitchAt
	}
	return a.at() <= a.SwitchAt
}

// Raise drives a lift that an output switches.
func (m *Machine) Raise(raised bool, at time.Duration) {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.lift, m.liftAt = m.lifted(at), at
	if raised != m.raised {
		m.raised = raised
		m.lifts++
	}
}

// SetBacklash gives an axis play, mm.
func (m *Machine) SetBacklash(i int, play float64) {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.axes[i].Backlash = play
}

// Lift is how far up the lift is: 0 down, 1 up. A third axis is the lift when there
// is one: its far end is up.
func (m *Machine) Lift(at time.Duration) float64 {
	m.mu.Lock()
	defer m.mu.Unlock()
	if len(m.axes) > 2 {
		return m.axes[2].at() / m.axes[2].Length
	}
	return m.lifted(at)
}

// Lifts is how often the lift was sent the other way.
func (m *Machine) Lifts() int {
	m.mu.Lock()
	defer m.mu.Unlock()
	return m.lifts
}

func (m *Machine) lifted(at time.Duration) float64 {
	if m.IsJammed {
		return m.lift
	}
	by := float64(at-m.liftAt) / float64(m.LiftTime)
	if !m.raised {
		by = -by
	}
	return max(0, min(1, m.lift+by))
}
