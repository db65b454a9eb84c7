// SPDX-License-Identifier: Apache-2.0

package gcode

import (
	"errors"
	"fmt"
)

// What a gantry answers when it did not do what it was told.
var (
	ErrHalted = errors.New("the gantry was halted: home it when all is clear")
	ErrNoHome = errors.New("the axes have not found their zeros: home first")
	ErrBusy   = errors.New("the gantry is still moving: wait for it or halt it first")
)

// errSilent is that no banner came.
var errSilent = errors.New("the controller does not say what it is: check its supply, the cable, controller.port and controller.baud (115200 as a rule)")

// errWire is that the wire itself broke.
func errWire(err error) error {
	return fmt.Errorf("the wire to the controller broke (%w): plug it in, then home", err)
}
