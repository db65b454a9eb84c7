// SPDX-License-Identifier: Apache-2.0

//go:build linux

// Package rights lets tests open devices as a user who may not.
package rights

import (
	"os"
	"runtime"
	"testing"

	"github.com/creack/pty"
	"golang.org/x/sys/unix"
)

// Refused is the path of a real character device, until the test ends, that nobody may open.
func Refused(t *testing.T) string {
	t.Helper()
	host, device, err := pty.Open()
	if err == nil {
		err = os.Chmod(device.Name(), 0)
	}
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _, _ = host.Close(), device.Close() })
	return device.Name()
}

// Without runs something as a user who is in no group, where the test runs as root: the
// kernel lets nobody else at a file without rights (credentials(7), setfsuid(2)).
func Without(do func()) {
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
