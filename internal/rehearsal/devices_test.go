// SPDX-License-Identifier: Apache-2.0

//go:build linux

package rehearsal_test

import (
	"bufio"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// devices are the device files that this process has open, and the sockets at which it listens,
// by name, as the kernel tells them (proc(5)).
type devices map[string]bool

// look notes what is open now.
func (d devices) look() {
	links, _ := filepath.Glob("/proc/self/fd/*")
	own := map[string]bool{}
	for _, l := range links {
		name, err := os.Readlink(l)
		switch {
		case err != nil: // closed meanwhile
		case strings.HasPrefix(name, "/dev/"), strings.HasPrefix(name, "/sys/class/"), strings.HasPrefix(name, "/sys/devices/"):
			d[name] = true
		case strings.HasPrefix(name, "socket:["):
			own[strings.Trim(strings.TrimPrefix(name, "socket:"), "[]")] = true
		}
	}
	for _, table := range []string{"/proc/self/net/tcp", "/proc/self/net/tcp6", "/proc/self/net/udp", "/proc/self/net/udp6"} {
		d.listening(table, own)
	}
}

// isListening is the state of a socket that waits for somebody to come; one of UDP is in
// isUnconnected. Source: the kernel's include/net/tcp_states.h.
const isListening, isUnconnected = "0A", "07"

// listening notes the addresses of a table at which own sockets listen.
func (d devices) listening(table string, own map[string]bool) {
	f, err := os.Open(table)
	if err != nil { // a kernel without that protocol
		return
	}
	defer func() { _ = f.Close() }()
	for s := bufio.NewScanner(f); s.Scan(); {
		col := strings.Fields(s.Text())
		isOpen := len(col) > 9 && (col[3] == isListening || col[3] == isUnconnected && strings.Contains(table, "udp"))
		if isOpen && own[col[9]] {
			address, _, _ := strings.Cut(col[1], ":")
			d["listens at "+address] = true
		}
	}
}

// loopback are the addresses of this computer that no other reaches, as the kernel writes
// them: 127.0.0.1, and ::1 in words of four bytes, on machines that count from the low end.
var loopback = map[string]bool{"0100007F": true, "00000000000000000000000001000000": true}

// check says what was open that the rig file does not name: beside the controller's device
// that may be what every program has, and the other end of the wire, which the test holds.
func (d devices) check(t *testing.T, p *plant) {
	t.Helper()
	hasPort, listens := false, 0
	for name := range d {
		address, isListener := strings.CutPrefix(name, "listens at ")
		switch {
		case isListener && loopback[address]:
			listens++
		case isListener:
			t.Errorf("something listens at %s, which is not loopback", address)
		case name == "/dev/null", name == "/dev/ptmx", name == "/dev/pts/ptmx", strings.HasPrefix(name, "/dev/std"), strings.HasPrefix(name, "/dev/shm/"):
		case strings.TrimSuffix(name, " (deleted)") == p.first, name == p.plug.Name:
			hasPort = true
		default:
			t.Errorf("%s was opened, which the rig file does not name", name)
		}
	}
	if !hasPort || listens == 0 {
		t.Errorf("the wire was not seen, or the pages were not: %v", d)
	}
}
