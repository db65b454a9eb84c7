// SPDX-License-Identifier: Apache-2.0

package drive

import (
	"math"

	"boardhand/internal/unit"
)

// Motor gives the torque left at a turning rate.
type Motor interface {
	TorqueAt(unit.Turning) unit.Torque
}

// DC is a brushed direct-current motor, with its gearbox if it has one.
type DC struct {
	Stall unit.Torque
	Free  unit.Turning
}

// Check says what is wrong with the motor.
func (m DC) Check() error {
	return firstOf(above("stall torque", float64(m.Stall), 1e3), above("free speed", float64(m.Free), 1e5))
}

// TorqueAt is the motor line T = Ts(1 − ω/ω0), zero above the free speed.
// Range: ω ≥ 0. Accuracy: 10 % of a data sheet's motor. Source: MIT,
// Understanding D.C. Motor Characteristics.
func (m DC) TorqueAt(w unit.Turning) unit.Torque {
	return m.Stall * unit.Torque(max(1-float64(w)/float64(m.Free), 0))
}

// MostPower is the most power, at half speed and half torque: Ts·ω0/4, watts.
// Source: as TorqueAt.
func (m DC) MostPower() float64 { return float64(m.Stall) * float64(m.Free) / 4 }

// AtVoltage is the same motor on another supply: torque and speed go with the
// voltage. Range: voltages above 0. Source: VEX EDR curriculum, Speed, power,
// torque and DC motors.
func (m DC) AtVoltage(rated, now unit.Voltage) (DC, error) {
	k := float64(now) / float64(rated)
	return DC{m.Stall * unit.Torque(k), m.Free * unit.Turning(k)},
		firstOf(above("rated voltage", float64(rated), 1e3), above("voltage", float64(now), 1e3))
}

// CurrentAt is the current drawn at a torque: (I_stall − I_free)/T_stall·T +
// I_free. Source: as AtVoltage.
func (m DC) CurrentAt(t unit.Torque, stall, free unit.Current) (unit.Current, error) {
	return (stall-free)*unit.Current(t/m.Stall) + free, m.Check()
}

// Stepper is one stepping motor on a chopper driver.
type Stepper struct {
	Hold       unit.Torque
	Voltage    unit.Voltage
	Current    unit.Current // rated, a phase
	Inductance unit.Inductance
	FullSteps  int // a turn
}

// Check says what is wrong with the motor.
func (m Stepper) Check() error {
	return firstOf(above("holding torque", float64(m.Hold), 1e3), above("supply voltage", float64(m.Voltage), 1e3),
		above("phase current", float64(m.Current), 100), above("phase inductance", float64(m.Inductance), 10),
		above("full steps a turn", float64(m.FullSteps), 1e5))
}

// TopSpeed is the turning rate up to which the current still reverses fully
// within a step: V/(2·L·I·steps) turns a second. Range: chopper drives, V over
// I·R. Accuracy: a rule, 30 %. Source: daycounter.com and Farnell stepper
// calculators.
func (m Stepper) TopSpeed() (unit.Turning, error) {
	rev := float64(m.Voltage) / (2 * float64(m.Inductance) * float64(m.Current) * float64(m.FullSteps))
	return unit.Turning(rev * 2 * math.Pi), m.Check()
}

// LeastStepTime is the time the current needs to reverse: 2·L·I/V.
// Source: as TopSpeed.
func (m Stepper) LeastStepTime() (unit.Duration, error) {
	return unit.Duration(2 * float64(m.Inductance) * float64(m.Current) / float64(m.Voltage)), m.Check()
}

// Drawn is what a chopper driver takes from the supply for a motor that gives so much
// mechanical power, watts: (2·I²·R + P)/(share·V), and never more than both phases
// carry. A chopper draws power, not the phases' current. Range: rated current in both
// phases, as in full steps; microsteps take half as much heat. Accuracy: 30 %. Without
// a resistance or a voltage: both phases' current. Source: Joule's law, conservation of
// energy; share: common practice, no source.
func (m Stepper) Drawn(r unit.Resistance, watts float64) unit.Current {
	both := 2 * m.Current
	if r <= 0 || m.Voltage <= 0 {
		return both
	}
	heat := 2 * float64(m.Current) * float64(m.Current) * float64(r)
	return min(both, unit.Current((heat+watts)/(chopperShare*float64(m.Voltage))))
}

// TorqueAt is the torque a running stepper may be asked for: a share of the
// holding torque up to TopSpeed, above it falling as 1/ω with the current.
// Common practice, no source.
func (m Stepper) TorqueAt(w unit.Turning) unit.Torque {
	t := m.Hold * runningShare
	if top, err := m.TopSpeed(); err == nil && w > top {
		t *= unit.Torque(top / w)
	}
	return t
}
