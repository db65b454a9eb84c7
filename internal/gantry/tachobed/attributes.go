// SPDX-License-Identifier: Apache-2.0

package tachobed

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"syscall"
)

// setpoints are what may be written.
type setpoints struct {
	position, speed, duty, time int
	rampUp, rampDown            int
	polarity, stop              string
	gains                       map[string]int
}

// fresh are the values after a reset.
func fresh() setpoints {
	return setpoints{polarity: "normal", stop: "coast", gains: map[string]int{"speed_pid/Kp": 1000, "speed_pid/Ki": 60, "speed_pid/Kd": 0,
		"hold_pid/Kp": 20000, "hold_pid/Ki": 0, "hold_pid/Kd": 0}}
}

var (
	commands    = []string{"run-forever", "run-to-abs-pos", "run-to-rel-pos", "run-timed", "run-direct", "stop", "reset"}
	stopActions = []string{"coast", "brake", "hold"}
)

// read gives an attribute's text; an error is an errno.
func (m *motor) read(name string) (string, error) {
	switch name {
	case "address":
		return m.Address, nil
	case "driver_name":
		return "simulated-l-motor", nil
	case "commands":
		return strings.Join(commands, " "), nil
	case "stop_actions":
		return strings.Join(stopActions, " "), nil
	case "state":
		return strings.Join(m.state(), " "), nil
	case "polarity":
		return m.set.polarity, nil
	case "stop_action":
		return m.set.stop, nil
	case "command":
		return "", syscall.EACCES
	}
	n, ok := m.number(name)
	if !ok {
		return "", syscall.ENOENT
	}
	return strconv.Itoa(n), nil
}

// number is an attribute that is a number.
func (m *motor) number(name string) (int, bool) {
	s := m.sign()
	switch name {
	case "count_per_rot":
		return m.PerTurn, true
	case "max_speed":
		return int(m.MaxSpeed), true
	case "position":
		return int(int32(int64(math.Floor(s*(m.turned-m.zero) + 0.5)))), true // 32 bits, round and round
	case "position_sp":
		return m.set.position, true
	case "speed":
		return int(math.Round(s * m.speed)), true
	case "speed_sp":
		return m.set.speed, true
	case "duty_cycle":
		return int(math.Round(100 * s * m.duty)), true
	case "duty_cycle_sp":
		return m.set.duty, true
	case "ramp_up_sp":
		return m.set.rampUp, true
	case "ramp_down_sp":
		return m.set.rampDown, true
	case "time_sp":
		return m.set.time, true
	}
	n, ok := m.set.gains[name]
	return n, ok
}

// write sets an attribute; an error is an errno.
func (m *motor) write(name, value string) error {
	switch name {
	case "command":
		return m.pick(value, commands, m.command)
	case "polarity":
		return m.pick(value, []string{"normal", "inversed"}, func(v string) { m.set.polarity = v })
	case "stop_action":
		return m.pick(value, stopActions, func(v string) {
			m.set.stop = v
		})
	case "address", "driver_name", "commands", "stop_actions", "state", "count_per_rot", "max_speed", "speed", "duty_cycle":
		return syscall.EACCES
	}
	n, err := strconv.ParseInt(value, 0, 32)
	if err != nil {
		if _, known := m.number(name); !known {
			return syscall.ENOENT
		}
		return syscall.EINVAL
	}
	return m.writeNumber(name, int(n))
}

// pick does one of a list of words.
func (m *motor) pick(value string, of []string, do func(string)) error {
	if !slices.Contains(of, value) {
		return syscall.EINVAL
	}
	do(value)
	return nil
}

// writeNumber sets an attribute that is a number.
func (m *motor) writeNumber(name string, n int) error {
	most := int(m.MaxSpeed)
	for _, c := range []struct {
		name      string
		low, high int
		to        *int
	}{
		{"position_sp", math.MinInt32, math.MaxInt32, &m.set.position},
		{"speed_sp", -most, most, &m.set.speed},
		{"duty_cycle_sp", -100, 100, &m.set.duty},
		{"ramp_up_sp", 0, longestRamp, &m.set.rampUp},
		{"ramp_down_sp", 0, longestRamp, &m.set.rampDown},
		{"time_sp", 0, math.MaxInt32, &m.set.time},
	} {
		if c.name != name {
			continue
		}
		if n < c.low || n > c.high {
			return syscall.EINVAL
		}
		*c.to = n
		return nil
	}
	if name == "position" {
		m.zero = m.turned - m.sign()*float64(n)
		return nil
	}
	if _, ok := m.set.gains[name]; ok {
		m.set.gains[name] = n
		return nil
	}
	return syscall.ENOENT
}
