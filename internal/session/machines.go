// SPDX-License-Identifier: Apache-2.0

package session

import (
	"errors"
	"fmt"

	"boardhand/internal/measured"
	"boardhand/internal/rig"
	"boardhand/internal/twin"
)

// TwinMachine is one simulated machine, the same evening after evening.
type TwinMachine struct {
	Built   string // "drawn" by the seed, "exact" or "askew"
	Seed    int64
	Through string // the driver that moves it: "gcode", "tacho"; "": it moves by itself
}

// Name is what a file of what was measured calls the machine.
func (m TwinMachine) Name() string {
	name := measured.Twin(m.Seed)
	if m.Built != "drawn" {
		name = "twin, built " + m.Built
	}
	if m.Through != "" {
		name += ", through " + m.Through
	}
	return name
}

// Deviations are how the machine differs from its rig file.
func (m TwinMachine) Deviations(r *rig.Rig) (*twin.Deviations, error) {
	q, err := twin.Build(m.Built, r, m.Seed)
	if err != nil {
		return nil, fmt.Errorf("--twin: %w", err)
	}
	return &q, nil
}

// OneTwin is the machine at which all games are played; nothing of it is set where each has its own.
type OneTwin struct {
	Name       string
	Deviations *twin.Deviations
}

// Only is a machine as the only one, the rig given what was measured there if that is wanted.
func (m TwinMachine) Only(r *rig.Rig, isMeasured bool) (one OneTwin, err error) {
	one.Name = m.Name()
	if one.Deviations, err = m.Deviations(r); err == nil && isMeasured {
		one.Name += ", as measured"
		err = atTheTwin(r, m)
	}
	return one, err
}

// atTheTwin gives a rig what bring-up measured at a machine; without that it says what to type.
func atTheTwin(r *rig.Rig, m TwinMachine) error {
	if r.Path == "" {
		return errors.New("--measured: give the rig file beside which bringup kept what it measured")
	}
	f, err := measured.Load(r.Path)
	if err != nil {
		return err
	}
	switch {
	case f.Axes == nil:
		return fmt.Errorf("--measured: nothing was measured at this machine; first: boardhand bringup %s%s", r.Path, m.flags())
	case f.Machine != m.Name():
		return fmt.Errorf("--measured: %s is of another machine (%s; this is %s): give this one a folder of its own, then boardhand bringup RIG%s", measured.Name, f.Machine, m.Name(), m.flags())
	}
	f.Apply(r, m.Name())
	return nil
}

// flags are those that name the machine.
func (m TwinMachine) flags() (text string) {
	if m.Built != "drawn" {
		text += " --twin " + m.Built
	} else if m.Seed != 1 {
		text += fmt.Sprintf(" --seed %d", m.Seed)
	}
	if m.Through != "" {
		text += " --through " + m.Through
	}
	return text
}
