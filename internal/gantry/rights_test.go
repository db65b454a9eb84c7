// SPDX-License-Identifier: Apache-2.0

//go:build linux

package gantry

import (
	"os"
	"runtime"
	"strings"
	"testing"

	"github.com/creack/pty"
	"golang.org/x/sys/unix"
)

// ordinary runs something as a user who is in no group, where the test runs as root: the
// kernel lets nobody else at a file without rights (credentials(7), setfsuid(2)).
func ordinary(do func()) {
	done := make(chan struct{})
	go func() {
		defer close(done)
		runtime.LockOSThread() // and never unlocked: the thread ends with its rights
		if os.Geteuid() == 0 {
			_ = unix.Setfsuid(65534)
		}
		do()
	}()
	<-done
}

// A user who may not use the port is told which group to join, by the real opening of a
// real device.
func TestPortWithoutRights(t *testing.T) {
	host, device, err := pty.Open()
	if err == nil {
		err = os.Chmod(device.Name(), 0)
	}
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _, _ = host.Close(), device.Close() }()
	ordinary(func() { _, err = Serial(device.Name(), 115200)() })
	if err == nil || !strings.Contains(err.Error(), "you may not use "+device.Name()+": type `sudo usermod -a -G dialout $USER`") {
		t.Errorf("it says %v", err)
	}
}
