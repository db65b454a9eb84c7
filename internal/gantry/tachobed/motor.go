// SPDX-License-Identifier: Apache-2.0

package tachobed

import (
	"math"
)

// motor is a motor with its driver: what it was told, and what it does.
type motor struct {
	Kind
	set     setpoints
	run     string  // the command it is at; "": none
	turned  float64 // counts since it was made, clockwise up
	zero    float64 // of the reported position, in turned
	speed   float64 // counts a second, clockwise up
	duty    float64 // −1…1
	wanted  float64 // speed that the ramp has come to
	aim     float64 // where the ramp has come to, in turned
	target  float64 // of run-to-*-pos, in turned
	rate    float64 // speed asked for when the command came, with its sign
	left    float64 // of run-timed, s
	sum     float64 // of the regulator, share of full duty
	stuck   float64 // for how long it has not turned, s
	ramping bool
	after   string // stop action at work: coast, brake, hold
}

func newMotor(k Kind) *motor {
	if k.Slow == 0 {
		k.Slow = 1
	}
	return &motor{Kind: k, set: fresh(), after: "coast"}
}

// way is +1, or −1 for a motor that turns its axis backwards.
func (m *motor) way() float64 {
	if m.Opposed {
		return -1
	}
	return 1
}

// along is how far it has turned, as its axis goes.
func (m *motor) along() float64 { return m.way() * m.turned }

// sign is −1 for a motor of inversed polarity.
func (m *motor) sign() float64 {
	if m.set.polarity == "inversed" {
		return -1
	}
	return 1
}

// command does a command.
func (m *motor) command(c string) {
	m.stuck = 0
	switch c {
	case "stop":
		m.stop()
		return
	case "reset":
		m.set = fresh()
		m.stop()
		return
	}
	m.aim = m.turned
	m.wanted = m.speed
	m.run, m.after, m.left = c, "", float64(m.set.time)/1000
	m.rate = m.sign() * float64(m.set.speed)
	switch c {
	case "run-to-abs-pos":
		m.target = m.zero + m.sign()*float64(m.set.position)
	case "run-to-rel-pos":
		m.target = m.turned + m.sign()*float64(m.set.position)
	}
}

// stop ends a command by the stop action.
func (m *motor) stop() {
	m.run, m.after, m.ramping, m.sum = "", m.set.stop, false, 0
	m.aim, m.wanted = m.turned, 0
}

// step lets dt pass; twist is what the other motors of the axis pull, as a share of
// the stall torque, blocks says whether an end holds a way.
func (m *motor) step(dt, twist float64, blocks func(way float64) bool) {
	m.ramp(dt)
	m.regulate(dt)
	friction := m.Friction * math.Copysign(math.Min(1, math.Abs(m.speed)/creep), m.speed)
	slow := inertia
	drive := m.duty*m.Slow + twist - friction
	if m.run == "" && m.after == "coast" { // nothing but friction brakes it
		slow, drive = coasting, twist-friction
	}
	if math.Abs(m.speed) < creep && math.Abs(m.duty*m.Slow+twist) <= m.Friction {
		m.speed, drive = 0, 0
	}
	m.speed += (drive*m.MaxSpeed - m.speed) * math.Min(1, dt/slow)
	if blocks(m.speed) {
		m.speed = 0
	}
	m.turned += m.speed * dt
	if m.run != "" && math.Abs(m.speed) < stillness*m.MaxSpeed {
		m.stuck += dt
	} else {
		m.stuck = 0
	}
}

// ramp brings the wanted speed on its way and ends commands that are done.
func (m *motor) ramp(dt float64) {
	goal := m.rate
	switch m.run {
	case "", "run-direct":
		m.ramping = false
		return
	case "run-timed":
		if m.left -= dt; m.left <= 0 {
			m.stop()
			return
		}
	case "run-to-abs-pos", "run-to-rel-pos":
		rest := m.target - m.aim
		goal = math.Copysign(math.Min(math.Abs(m.rate), m.braking(math.Abs(rest))), rest)
		if math.Abs(rest) < 0.5 && math.Abs(m.target-m.turned) < arrived {
			m.stop()
			m.aim = m.target
			return
		}
	}
	most := m.slope(goal) * dt
	change := math.Max(-most, math.Min(most, goal-m.wanted))
	m.ramping = math.Abs(goal-m.wanted) > most
	m.wanted += change
	by := m.wanted * dt
	if m.run != "run-forever" && m.run != "run-timed" && math.Abs(by) > math.Abs(m.target-m.aim) {
		by = m.target - m.aim
	}
	m.aim += by
}

// braking is the speed from which the ramp stops within a way, counts a second.
func (m *motor) braking(way float64) float64 {
	return math.Sqrt(2 * m.slope(0) * way)
}

// slope is how fast the wanted speed may change towards a goal, counts a second²:
// that of the ramp, or what the motor itself does without one.
func (m *motor) slope(goal float64) float64 {
	ms := m.set.rampDown
	if math.Abs(goal) > math.Abs(m.wanted) {
		ms = m.set.rampUp
	}
	return m.MaxSpeed / math.Max(float64(ms)/1000, inertia)
}

// regulate sets the duty: as told, or so that the motor keeps up with its ramp.
func (m *motor) regulate(dt float64) {
	switch {
	case m.run == "run-direct":
		m.duty = m.sign() * float64(m.set.duty) / 100
	case m.run != "" || m.after == "hold":
		behind := m.aim - m.turned
		if m.run != "" { // hold_pid/Ki is 0
			m.sum = math.Max(-1, math.Min(1, m.sum+behind*dt*sumGain/m.MaxSpeed))
		}
		m.duty = (m.wanted+behind*gain)/m.MaxSpeed + m.sum
		m.duty = math.Max(-1, math.Min(1, m.duty))
	default:
		m.duty = 0
	}
}

// state are the flags.
func (m *motor) state() (flags []string) {
	if m.run != "" {
		flags = append(flags, "running")
	}
	if m.ramping {
		flags = append(flags, "ramping")
	}
	if m.run == "" && m.after == "hold" {
		flags = append(flags, "holding")
	}
	if m.run != "" && m.run != "run-direct" && math.Abs(m.duty) >= 1 && math.Abs(m.speed) < overload*math.Abs(m.wanted) {
		flags = append(flags, "overloaded")
	}
	if m.stuck > stallTime {
		flags = append(flags, "stalled")
	}
	return flags
}
