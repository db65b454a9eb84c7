// SPDX-License-Identifier: Apache-2.0

package service

import (
	"context"
	"net"
	"os"
	"path/filepath"
	"strconv"
	"testing"
)

// manager is a service manager that hears what is told, one datagram at a time.
func manager(t *testing.T) func() string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "notify")
	c, err := net.ListenUnixgram("unixgram", &net.UnixAddr{Name: path, Net: "unixgram"})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = c.Close() })
	t.Setenv("NOTIFY_SOCKET", path)
	return func() string {
		var b [256]byte
		n, err := c.Read(b[:])
		if err != nil {
			t.Fatal(err)
		}
		return string(b[:n])
	}
}

// The words are those of sd_notify(3): READY=1, WATCHDOG=1, STOPPING=1.
func TestTellsReadyAliveStopping(t *testing.T) {
	hear := manager(t)
	t.Setenv("WATCHDOG_USEC", "20000")
	t.Setenv("WATCHDOG_PID", strconv.Itoa(os.Getpid()))
	ctx, stop := context.WithCancel(t.Context())
	asked, ended := make(chan struct{}, 100), make(chan struct{})
	go func() {
		Run(ctx, func() { asked <- struct{}{} })
		close(ended)
	}()
	if got := hear(); got != "READY=1" {
		t.Errorf("first it said %q", got)
	}
	for range 2 {
		<-asked
		if got := hear(); got != "WATCHDOG=1" {
			t.Errorf("alive, it said %q", got)
		}
	}
	stop()
	<-ended
	last := ""
	for last != "STOPPING=1" {
		if last = hear(); last != "WATCHDOG=1" && last != "STOPPING=1" {
			t.Fatalf("at the end it said %q", last)
		}
	}
}

// A program that hangs is not alive.
func TestHangingIsNotAlive(t *testing.T) {
	hear := manager(t)
	t.Setenv("WATCHDOG_USEC", "2000")
	t.Setenv("WATCHDOG_PID", strconv.Itoa(os.Getpid()))
	ctx, stop := context.WithCancel(t.Context())
	hang, hangs := make(chan struct{}), make(chan struct{}, 1)
	go Run(ctx, func() { hangs <- struct{}{}; <-hang })
	if got := hear(); got != "READY=1" {
		t.Errorf("first it said %q", got)
	}
	<-hangs
	stop()
	close(hang)
	for _, want := range []string{"WATCHDOG=1", "STOPPING=1"} { // told once it hangs no more, and not before
		if got := hear(); got != want {
			t.Errorf("it said %q, want %q", got, want)
		}
	}
}

func TestWithoutAManager(t *testing.T) {
	t.Setenv("NOTIFY_SOCKET", "")
	ctx, stop := context.WithCancel(t.Context())
	stop()
	Run(ctx, func() { t.Error("nobody asked") })
}
