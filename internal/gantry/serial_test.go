// SPDX-License-Identifier: Apache-2.0

package gantry

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"go.bug.st/serial"
)

// A device that is not there, or is no port, is a sentence that says what to do.
func TestPortsThatDoNotOpen(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "file")
	if err := os.WriteFile(file, nil, 0o644); err != nil {
		t.Fatal(err)
	}
	for port, want := range map[string]string{filepath.Join(dir, "none"): "is not there: plug the controller in", file: "is no serial port: set controller.port"} {
		wire, err := Serial(port, 115200)()
		if err == nil || wire != nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, want %q", port, err, want)
		}
	}
}

// coded is an error of the serial library.
type coded struct{ code serial.PortErrorCode }

func (c coded) Error() string              { return "coded" }
func (c coded) Code() serial.PortErrorCode { return c.code }

// No permission, a busy port and a speed that is not there have their sentences.
func TestOpeningIsExplained(t *testing.T) {
	for code, want := range map[serial.PortErrorCode]string{
		serial.PermissionDenied: "sudo usermod -a -G dialout $USER",
		serial.PortBusy:         "close that program",
		serial.InvalidSpeed:     "set controller.baud to 115200",
	} {
		if got := explainOpen("port", 250000, coded{code}).Error(); !strings.Contains(got, want) {
			t.Errorf("%v: %s", code, got)
		}
	}
	if err := explainOpen("port", 9600, os.ErrInvalid); !errors.Is(err, os.ErrInvalid) {
		t.Errorf("the cause is gone: %v", err)
	}
}
