// SPDX-License-Identifier: Apache-2.0

//go:build linux

package gantry

import (
	"strings"
	"testing"

	"boardhand/internal/rights"
)

// A user who may not use the port is told which group to join, by the real opening of a
// real device.
func TestPortWithoutRights(t *testing.T) {
	name := rights.Refused(t)
	var err error
	rights.Without(func() { _, err = Serial(name, 115200)() })
	if err == nil || !strings.Contains(err.Error(), "you may not use "+name+": type `sudo usermod -a -G dialout $USER`") {
		t.Errorf("it says %v", err)
	}
}
