// SPDX-License-Identifier: Apache-2.0

package tacho

import (
	"errors"
	"fmt"
	"io/fs"
	"math"
	"slices"
	"strconv"
	"strings"
	"syscall"

	"boardhand/internal/motion"
)

// motor is one motor by its port.
type motor struct {
	address  string
	inversed bool
	folder   *heard
	told     string // duty that it was told last
	name     string // motor0, as the class has it now; "": not looked for yet
	most     int    // its max_speed, counts a second
	last     int    // position that it told last
}

// motorsOf reads the ports that turn one axis: "outA", or "outA, -outD" for two of
// which the second is mounted the other way round.
func motorsOf(f *heard, ports string) ([]*motor, error) {
	var out []*motor
	for _, p := range strings.Split(ports, ",") {
		address, inversed := strings.CutPrefix(strings.TrimSpace(p), "-")
		if address == "" {
			return nil, errors.New(`name the motor's port, like "outA", or two ports, like "outA, -outD", where the one with - is mounted the other way round`)
		}
		out = append(out, &motor{address: address, inversed: inversed, folder: f})
	}
	if len(out) > 2 {
		return nil, fmt.Errorf("%d motors are named; one axis takes one or two", len(out))
	}
	return out, nil
}

// find looks for the motor at its port: its number says nothing.
func (m *motor) find() error {
	names, err := m.folder.List()
	if err != nil {
		return fmt.Errorf("looking for motors: %w", err)
	}
	var seen []string
	for _, n := range slices.Concat(names, names) { // twice: an address may be misheard
		text, err := m.folder.Read(n + "/address")
		if err != nil {
			continue // it was unplugged meanwhile
		}
		if at := strings.TrimSpace(text); at == m.address || strings.HasSuffix(at, ":"+m.address) {
			m.name = n
			return nil
		} else {
			seen = append(seen, at)
		}
	}
	slices.Sort(seen)
	seen = slices.Compact(seen)
	return fmt.Errorf("no motor at port %s: plug it in, or name its port in controller.motor; there are %q", m.address, seen)
}

// read reads an attribute, once more where that failed.
func (m *motor) read(attribute string) (text string, err error) {
	err = again(func() error {
		text, err = m.folder.Read(m.name + "/" + attribute)
		return err
	})
	return strings.TrimSpace(text), m.explain("reading", attribute, err)
}

// again does what talks to a motor, and once more where it failed: the motor's own wire
// may have lost a word. A motor that is gone, and what is forbidden, stay so.
func again(do func() error) error {
	err := do()
	if err == nil || errors.Is(err, fs.ErrNotExist) || errors.Is(err, syscall.ENODEV) || errors.Is(err, fs.ErrPermission) {
		return err
	}
	return do()
}

// number reads an attribute that is a whole number of 32 bits; what is none is read once
// more.
func (m *motor) number(attribute string) (n int, err error) {
	for range 2 {
		text, failed := m.read(attribute)
		if failed != nil {
			return 0, failed
		}
		if n, bad := strconv.ParseInt(text, 10, 32); bad == nil {
			return int(n), nil
		}
		m.folder.doubt()
		err = fmt.Errorf("motor at %s says %q for %s, which is no number", m.address, text, attribute)
	}
	return 0, err
}

// count reads the position. One that the motor cannot have come to since the last is
// read once more: the second counts.
func (m *motor) count() (int, error) {
	n, err := m.number("position")
	if err == nil && math.Abs(float64(n-m.last)) > jump {
		m.folder.doubt()
		n, err = m.number("position")
	}
	if err == nil {
		m.last = n
	}
	return n, err
}

// zero calls where the motor stands zero, and looks whether it took that.
func (m *motor) zero() error {
	for range 2 {
		if err := m.write("position", "0"); err != nil {
			return err
		}
		n, err := m.number("position")
		if err != nil {
			return err
		}
		if m.last = n; math.Abs(float64(n)) <= creeps {
			return nil
		}
	}
	return fmt.Errorf("the motor at %s was told to count from 0 and counts %d: look at its cable, then home", m.address, m.last)
}

// write writes attributes, in order.
func (m *motor) write(pairs ...string) error {
	for i := 0; i+1 < len(pairs); i += 2 {
		if err := again(func() error { return m.folder.Write(m.name+"/"+pairs[i], pairs[i+1]) }); err != nil {
			return m.explain("writing "+pairs[i+1]+" to", pairs[i], err)
		}
	}
	return nil
}

// explain makes a sentence of the kernel's number.
func (m *motor) explain(doing, attribute string, err error) error {
	switch {
	case err == nil:
		return nil
	case errors.Is(err, fs.ErrNotExist), errors.Is(err, syscall.ENODEV):
		return &motion.Gone{Why: fmt.Errorf("the motor at %s is gone: plug it in, then home (%w)", m.address, err)}
	case errors.Is(err, fs.ErrPermission):
		return fmt.Errorf("%s %s of the motor at %s is not allowed: let this user write the class' attributes (%w)", doing, attribute, m.address, err)
	}
	return fmt.Errorf("%s %s of the motor at %s: %w", doing, attribute, m.address, err)
}

// prepare finds the motor and puts it into a known state, standing; counts is how
// many a turn the rig file says.
func (m *motor) prepare(counts int) error {
	if err := m.find(); err != nil {
		return err
	}
	polarity := "normal"
	if m.inversed {
		polarity = "inversed"
	}
	if err := m.write("command", "reset", "polarity", polarity, "stop_action", "coast", "ramp_up_sp", "0", "ramp_down_sp", "0"); err != nil {
		return err
	}
	var err error
	if m.most, err = m.number("max_speed"); err != nil {
		return err
	}
	perTurn, err := m.number("count_per_rot")
	if err == nil && counts > 0 && perTurn != counts {
		err = fmt.Errorf("the motor at %s counts %d a turn, the rig file says %d: correct motor.counts", m.address, perTurn, counts)
	}
	return err
}

// has says whether the state has a flag.
func (m *motor) has(flag string) (bool, error) {
	text, err := m.read("state")
	return slices.Contains(strings.Fields(text), flag), err
}
