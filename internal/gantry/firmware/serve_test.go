// SPDX-License-Identifier: Apache-2.0

package firmware

import (
	"bufio"
	"fmt"
	"net"
	"os"
	"strings"
	"testing"
	"testing/synctest"

	"boardhand/internal/gantry/built"
	"boardhand/internal/gantry/clock"
	"boardhand/internal/gantry/firmware/settings"
)

// served is a firmware with a clock and no need of homing.
func served(pace float64) *Server {
	m := built.New(built.Axis{PerMM: 80, Length: 300}, built.Axis{PerMM: 80, Length: 300})
	set := map[int]float64{settings.Homing: 0, 100: 80, 101: 80, 110: 6000, 111: 6000, 120: 400, 121: 400}
	return NewServer(New(Motors{m}, Options{Settings: set}), clock.New(pace))
}

// A host that counts characters keeps the queue full over a pipe: in bubble time the
// stroke takes what its trapezoid takes, and nothing starves.
func TestServeOverAPipe(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s := served(1)
		here, there := net.Pipe()
		ended := make(chan error)
		go func() { ended <- s.Serve(there) }()
		lines := bufio.NewScanner(here)
		await := func(want string) {
			for lines.Scan() {
				if strings.HasPrefix(lines.Text(), want) {
					return
				}
			}
			t.Fatal("the stream ended")
		}
		await("Grbl")
		start := s.clock.Now()
		for i := range 100 {
			fmt.Fprintf(here, "G1 X%d F3000\n", i+1)
			await("ok")
		}
		fmt.Fprint(here, "G4 P0.01\n")
		await("ok")
		took, want := (s.clock.Now() - start).Seconds(), 50.0/400+100.0/50
		if took < want || took > want+0.05 {
			t.Errorf("100 mm took %.3f s, want %.3f", took, want)
		}
		if c := s.Counters(); c.Starved != 0 || c.Braked != 0 || c.Blocks != 100 {
			t.Errorf("%+v", c)
		}
		here.Close()
		if err := <-ended; err != nil {
			t.Error(err)
		}
	})
}

// The same through the terminal that a host opens by its name, in quick time.
func TestTerminal(t *testing.T) {
	s := served(200)
	term, err := OpenTerminal(s)
	if err != nil {
		t.Skip("no pseudo-terminals here:", err)
	}
	for range 2 { // a host may come back
		host, err := os.OpenFile(term.Name, os.O_RDWR, 0)
		if err != nil {
			t.Fatal(err)
		}
		fmt.Fprint(host, "\x18G1 X1 F3000\nG4 P0.01\nG0 X0\nG4 P0.01\n?")
		oks, report := 0, ""
		for lines := bufio.NewScanner(host); oks < 4 && lines.Scan(); {
			if lines.Text() == "ok" {
				oks++
			}
			if strings.HasPrefix(lines.Text(), "<") {
				report = lines.Text()
			}
		}
		if oks != 4 || !strings.Contains(report, "MPos:") {
			t.Errorf("%d answers, report %q", oks, report)
		}
		host.Close()
	}
	if err := term.Close(); err != nil {
		t.Error(err)
	}
}
