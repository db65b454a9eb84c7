// SPDX-License-Identifier: Apache-2.0

package drive

import (
	"math"
	"testing"

	"boardhand/internal/unit"
)

// MIT, Understanding D.C. Motor Characteristics (lancet.mit.edu/motors); the
// watts computed.
func TestMotorLine(t *testing.T) {
	for _, w := range []struct{ rpm, stall, half, watts float64 }{
		{600, 0.325, 0.163, 5.105}, {3750, 0.0722, 0.0361, 7.088}, {92, 1.6, 0.80, 3.854},
	} {
		m := DC{unit.Torque(w.stall), unit.RPM(w.rpm)}
		half := m.TorqueAt(unit.RPM(w.rpm / 2))
		near(t, "half torque", float64(half), w.half, 6e-4)
		near(t, "most power", m.MostPower(), w.watts, 6e-4)
		near(t, "power at half speed", float64(half)*float64(unit.RPM(w.rpm/2)), w.watts, 6e-4)
		if m.TorqueAt(unit.RPM(w.rpm*1.1)) != 0 {
			t.Error("no torque is left above the free speed")
		}
	}
}

// VEX EDR curriculum, Speed, power, torque and DC motors: all goes with the voltage.
func TestMotorOnAnotherSupply(t *testing.T) {
	m := DC{1, 100}
	low, err := m.AtVoltage(12, 9)
	if err != nil || math.Abs(float64(low.Stall)-0.75) > 1e-12 || math.Abs(float64(low.Free)-75) > 1e-12 {
		t.Errorf("got %+v %v", low, err)
	}
	near(t, "current at stall", float64(must(m.CurrentAt(1, 4, 0.5))(t)), 4, 1e-12)
	near(t, "current unloaded", float64(must(m.CurrentAt(0, 4, 0.5))(t)), 0.5, 1e-12)
	if _, err := m.AtVoltage(0, 9); err == nil {
		t.Error("0 V must be refused")
	}
}

// daycounter.com and Farnell calculators; the first three rows of a published
// table (its later rows contradict its own formula and are left out).
func TestStepperTopSpeed(t *testing.T) {
	for _, w := range []struct{ v, i, mH, rev float64 }{{24, 2, 5, 6}, {12, 1.5, 3, 6.67}, {24, 3, 4, 5}} {
		m := Stepper{0.4, unit.Voltage(w.v), unit.Current(w.i), unit.Inductance(w.mH * 1e-3), 200}
		top := must(m.TopSpeed())(t)
		near(t, "rev/s", float64(top)/(2*math.Pi), w.rev, 5e-3)
		near(t, "time a step", float64(must(m.LeastStepTime())(t))*200*float64(top)/(2*math.Pi), 1, 1e-12)
	}
	m := Stepper{0.4, 24, 2, 5e-3, 200}
	near(t, "0.833 ms", float64(must(m.LeastStepTime())(t)), 0.833e-3, 5e-7)
	slow, top, twice := m.TorqueAt(1), m.TorqueAt(unit.Turning(12*math.Pi)), m.TorqueAt(unit.Turning(24*math.Pi))
	if slow != top || math.Abs(float64(twice/top)-0.5) > 1e-9 {
		t.Errorf("torque must hold to the limit and halve at twice: %v %v %v", slow, top, twice)
	}
}

// A second route: one phase of resistance and inductance is switched on below its
// current and left to run down through a diode above it, in steps of a tenth of a
// microsecond, and what the supply gave meanwhile is added up. Two phases, no losses in
// the switches.
func TestStepperDrawsWhatItsPhasesHeat(t *testing.T) {
	const volts, amps, ohms, henries = 12.0, 1.5, 1.5, 3e-3
	i, given, dt := 0.0, 0.0, 1e-7
	const steps = 400000
	for n := range 2 * steps {
		on := 0.0
		if i < amps {
			on = volts
		}
		i += (on - i*ohms) / henries * dt
		if n >= steps && on > 0 { // it has risen by then
			given += i * dt
		}
	}
	both := 2 * given / (steps * dt)
	got := Stepper{Voltage: volts, Current: amps}.Drawn(ohms, 0)
	near(t, "amperes from the supply", float64(got)*chopperShare, both, 0.01*both)
	if got := (Stepper{Voltage: volts, Current: amps}).Drawn(ohms, 1.2); math.Abs(float64(got)-(6.75+1.2)/(0.85*12)) > 1e-12 {
		t.Errorf("with 1.2 W at the shaft: %v", got)
	}
	for what, m := range map[string]Stepper{"no voltage": {Current: amps}, "little voltage": {Voltage: 2, Current: amps}} {
		if got := m.Drawn(ohms, 0); got != 2*amps {
			t.Errorf("%s: %v, want both phases' current", what, got)
		}
	}
}
