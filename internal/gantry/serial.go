// SPDX-License-Identifier: Apache-2.0

// Package gantry holds what drivers of motor controllers share: the wire to a
// controller, opened again after it broke, and recorded byte by byte.
package gantry

import (
	"boardhand/internal/devname"
	"boardhand/internal/motion"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"go.bug.st/serial"
)

// Opener opens the wire to a controller: at the start, and anew after it broke.
type Opener func() (io.ReadWriteCloser, error)

// Serial opens the serial port of that name, and no other device: 8 data bits,
// no parity, 1 stop bit. An error says what to do.
func Serial(port string, baud int) Opener {
	return func() (io.ReadWriteCloser, error) {
		p, err := serial.Open(port, &serial.Mode{BaudRate: baud, DataBits: 8})
		if err != nil {
			return nil, explainOpen(port, baud, err)
		}
		return p, nil
	}
}

// explainOpen makes a sentence of why a port does not open.
func explainOpen(port string, baud int, err error) error {
	switch is := reasonOf(err); {
	case is(serial.PermissionDenied) || errors.Is(err, os.ErrPermission):
		return fmt.Errorf("you may not use %s: type `sudo usermod -a -G dialout $USER`, log out and in again", port)
	case is(serial.PortBusy):
		return fmt.Errorf("%s is used by another program: close that program", port)
	case is(serial.PortNotFound) || errors.Is(err, os.ErrNotExist):
		return &motion.Gone{Why: fmt.Errorf("%s is not there: plug the controller in, or set controller.port to one of %s", port, choices())}
	case is(serial.InvalidSerialPort):
		return fmt.Errorf("%s is no serial port: set controller.port to one of %s", port, choices())
	case is(serial.InvalidSpeed):
		return fmt.Errorf("%s does not run at %d baud: set controller.baud to 115200", port, baud)
	}
	return fmt.Errorf("controller.port %s cannot be opened: %w", port, err)
}

// reasonOf says whether the serial library gives a reason.
func reasonOf(err error) func(serial.PortErrorCode) bool {
	var coded interface{ Code() serial.PortErrorCode }
	if !errors.As(err, &coded) {
		return func(serial.PortErrorCode) bool { return false }
	}
	return func(c serial.PortErrorCode) bool { return coded.Code() == c }
}

// byID is where the system names serial devices by what they are: names that
// stay when devices are plugged in in another order.
const byID = "/dev/serial/by-id"

// choices lists the names of serial devices that are plugged in; none is opened.
func choices() string {
	entries, err := os.ReadDir(byID)
	if err != nil || len(entries) == 0 {
		return "the names in " + byID + " (none is there now)"
	}
	var names []string
	for _, e := range entries {
		names = append(names, filepath.Join(byID, e.Name()))
	}
	return strings.Join(names, ", ")
}

// Steady is the lasting name of a port, "" when it has none or is one.
func Steady(port string) string { return devname.Lasting(byID, port) }
