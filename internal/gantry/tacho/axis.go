// SPDX-License-Identifier: Apache-2.0

package tacho

import (
	"errors"
	"fmt"
	"math"
	"strconv"

	"boardhand/internal/gantry"
	"boardhand/internal/rig"
)

// axis is one or two motors that turn one thing. Of the lift the rig file tells nothing.
type axis struct {
	gantry.Axis
	motors   []*motor
	isDirect bool    // its motors take a new duty at once
	drag     float64 // what friction takes from its speed, learnt, m/s
	weak     float64 // what its motor lacks, share of the speed, learnt
}

// axisOf reads a horizontal axis.
func axisOf(r *rig.Rig, f *heard, name string) (*axis, error) {
	a, err := gantry.AxisOf(r, name)
	if err != nil {
		return nil, err
	}
	m, err := motorsOf(f, r.Controller.Motor[name])
	if err != nil {
		return nil, fmt.Errorf("controller.motor.%s: %w", name, err)
	}
	return &axis{Axis: a, motors: m}, nil
}

// prepare puts its motors into a known state and looks whether they are quick enough.
func (a *axis) prepare() error {
	a.isDirect = false
	for _, m := range a.motors {
		if err := m.prepare(a.Counts); err != nil {
			return err
		}
		if need := a.Bounds.Speed * a.PerMetre; need > spare*float64(m.most) {
			return fmt.Errorf("axis.%s.speed asks for %.0f counts a second and the motor at %s has %d, of which a tenth is kept to catch up: lower axis.%s.speed to %.0f mm/s",
				a.Name, need, m.address, m.most, a.Name, math.Floor(spare*float64(m.most)/a.PerMetre*1e3))
		}
	}
	return nil
}

// position is where the motors count themselves on average, counts; an error when
// two of them disagree.
func (a *axis) position() (float64, error) {
	sum, first := 0.0, 0
	for i, m := range a.motors {
		n, err := m.count()
		if err != nil {
			return 0, err
		}
		if i == 0 {
			first = n
		}
		if d := math.Abs(float64(n - first)); a.PerMetre > 0 && d > apart*a.PerMetre {
			return 0, fmt.Errorf("the two motors of axis %s are %.1f mm apart: look for what holds one of them, then home", a.Name, d/a.PerMetre*1e3)
		}
		sum += float64(n)
	}
	return sum / float64(len(a.motors)), nil
}

// each writes attributes of all its motors; all are written, whatever fails.
func (a *axis) each(pairs ...string) error {
	var err error
	for _, m := range a.motors {
		err = errors.Join(err, m.write(pairs...))
	}
	return err
}

// run has the motors turn at about a speed, counts a second, by the duty that gives it
// without load: regulators of the kernel would work against each other on one axis,
// and sum up what turns against the next motion.
func (a *axis) run(speed float64) error {
	for _, m := range a.motors {
		duty := math.Round(math.Max(-100, math.Min(100, 100*speed/float64(m.most))))
		m.told = strconv.Itoa(int(duty))
		pairs := []string{"duty_cycle_sp", m.told, "command", "run-direct"}
		if a.isDirect {
			pairs = pairs[:2]
		}
		if err := m.write(pairs...); err != nil {
			return err
		}
	}
	a.isDirect = true
	return nil
}

// press turns the motors at a duty, per cent.
func (a *axis) press(duty int) error {
	a.isDirect = false
	return a.each("duty_cycle_sp", strconv.Itoa(duty), "command", "run-direct")
}

// stop stops the motors by an action.
func (a *axis) stop(action string) error {
	a.isDirect = false
	return a.each("stop_action", action, "command", "stop")
}

// has says whether a flag is set at one of the motors.
func (a *axis) has(flag string) (bool, error) {
	for _, m := range a.motors {
		if is, err := m.has(flag); is || err != nil {
			return is, err
		}
	}
	return false, nil
}
