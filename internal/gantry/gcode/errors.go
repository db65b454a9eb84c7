// SPDX-License-Identifier: Apache-2.0

package gcode

import (
	"errors"
	"fmt"
)

// errSilent is that no banner came.
var errSilent = errors.New("the controller does not say what it is: check its supply, the cable, controller.port and controller.baud (115200 as a rule)")

// errWire is that the wire itself broke.
func errWire(err error) error {
	return fmt.Errorf("the wire to the controller broke (%w): plug it in, then home", err)
}
