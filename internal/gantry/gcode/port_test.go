// SPDX-License-Identifier: Apache-2.0

//go:build linux

package gcode

import (
	"errors"
	"testing"

	"boardhand/internal/gantry"
	"boardhand/internal/gantry/clock"
	"boardhand/internal/gantry/firmware"
)

// Over a serial port of the system: homing, a stroke, the lift, and a plug that is
// pulled. The controller's time runs five times as fast as the computer's.
func TestOverSerialPort(t *testing.T) {
	b := newBed(t, nil)
	b.server.Do(func(f *firmware.Firmware) { b.server = firmware.NewServer(f, clock.New(5)) })
	terminal, err := firmware.OpenTerminal(b.server)
	must(t, err)
	b.open = gantry.Serial(terminal.Name, 115200)
	must(t, b.Open())
	_, err = b.Home(t.Context())
	must(t, err)
	at, err := b.Move(t.Context(), across())
	must(t, err)
	b.stands(t, at)
	must(t, b.Lift(t.Context(), true))
	must(t, b.Lift(t.Context(), false))
	if c := b.server.Counters(); c.Overrun > 0 || c.Faults > 0 {
		t.Errorf("%+v", c)
	}
	must(t, terminal.Close())
	if _, err = b.Move(t.Context(), across()); err == nil {
		t.Error("moved without a port")
	}
	if err = b.Lift(t.Context(), true); !errors.Is(err, gantry.ErrNoHome) {
		t.Errorf("lifted: %v", err)
	}
	_ = b.Close()
}
