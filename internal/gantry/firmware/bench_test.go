// SPDX-License-Identifier: Apache-2.0

package firmware

import (
	"slices"
	"strings"
	"testing"
	"time"

	"boardhand/internal/gantry/built"
	"boardhand/internal/gantry/firmware/settings"
)

// bench is a firmware with a machine on it, driven in bed time alone.
type bench struct {
	t     *testing.T
	f     *Firmware
	m     *built.Machine
	lines []string // heard and not asked for yet
	rest  string
}

// quick are settings of a small quick machine that homes to its lower ends.
var quick = map[int]float64{settings.Homing: 1, settings.HomingSide: 3, settings.HomingSeek: 3000, settings.HomingFeed: 300, settings.PullOff: 2,
	100: 80, 101: 80, 110: 6000, 111: 6000, 120: 400, 121: 400, 130: 300, 131: 300}

// newBench powers a machine of two axes up; over changes its settings.
func newBench(t *testing.T, over map[int]float64) *bench {
	t.Helper()
	set := map[int]float64{}
	for _, m := range []map[int]float64{quick, over} {
		for k, v := range m {
			set[k] = v
		}
	}
	m := built.New(built.Axis{PerMM: set[100], Length: 300, Start: 120, SwitchAt: 0.5}, built.Axis{PerMM: set[101], Length: 300, Start: 80, SwitchAt: 0.5})
	b := &bench{t: t, m: m, f: New(Motors{m}, Options{Settings: set, Cycles: [][]int{{0, 1}}})}
	b.pass(100 * time.Millisecond)
	return b
}

// pass lets bed time pass and keeps what is heard.
func (b *bench) pass(d time.Duration) {
	b.f.Advance(b.f.Now() + d)
	b.rest += string(b.f.Take())
	for {
		line, rest, ok := strings.Cut(b.rest, "\r\n")
		if !ok {
			return
		}
		b.rest = rest
		if line != "" {
			b.lines = append(b.lines, line)
		}
	}
}

// heard takes what was heard.
func (b *bench) heard() []string {
	out := b.lines
	b.lines = nil
	return out
}

// ask sends a line and returns what came up to its answer, and the bed time it took.
func (b *bench) ask(line string) (answer []string, took time.Duration) {
	b.t.Helper()
	b.lines = nil
	start := b.f.Now()
	b.f.Receive([]byte(line + "\n"))
	for range 200000 {
		b.pass(time.Millisecond)
		if i := slices.IndexFunc(b.lines, func(s string) bool {
			return s == "ok" || strings.HasPrefix(s, "error") || strings.HasPrefix(s, "ALARM")
		}); i >= 0 {
			return b.heard(), b.f.Now() - start
		}
	}
	b.t.Fatalf("%q was not answered; heard %q", line, b.heard())
	return nil, 0
}

// tell asks and wants the answer ok.
func (b *bench) tell(lines ...string) {
	b.t.Helper()
	for _, l := range lines {
		if got, _ := b.ask(l); got[len(got)-1] != "ok" {
			b.t.Fatalf("%q: %q", l, got)
		}
	}
}

// now sends bytes that act at once and lets them arrive and be answered.
func (b *bench) now(bytes string) []string {
	b.f.Receive([]byte(bytes))
	b.pass(20 * time.Millisecond)
	return b.heard()
}

// homed is a bench that has been homed.
func homed(t *testing.T, over map[int]float64) *bench {
	b := newBench(t, over)
	b.tell("$H", "G21 G90")
	return b
}
