// SPDX-License-Identifier: Apache-2.0

package devname

import (
	"os"
	"path/filepath"
	"testing"
)

// The lasting name of a device is found by what it leads to.
func TestLasting(t *testing.T) {
	dir := t.TempDir()
	device, ids := filepath.Join(dir, "ttyUSB0"), filepath.Join(dir, "by-id")
	other := filepath.Join(dir, "ttyUSB1")
	lasting := filepath.Join(ids, "usb-controller")
	for _, err := range []error{os.WriteFile(device, nil, 0o644), os.WriteFile(other, nil, 0o644), os.Mkdir(ids, 0o755), os.Symlink("../ttyUSB0", lasting)} {
		if err != nil {
			t.Fatal(err)
		}
	}
	for port, want := range map[string]string{device: lasting, other: "", lasting: "", filepath.Join(dir, "none"): ""} {
		if got := Lasting(ids, port); got != want {
			t.Errorf("%s: %q, want %q", port, got, want)
		}
	}
}

// A device that nobody names keeps its number.
func TestNoLastingName(t *testing.T) {
	if got := Lasting("/dev/v4l/by-id", "/dev/null"); got != "" {
		t.Errorf("/dev/null is called %s", got)
	}
}
