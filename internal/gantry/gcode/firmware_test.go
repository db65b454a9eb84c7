// SPDX-License-Identifier: Apache-2.0

package gcode

import (
	"errors"
	"io"
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	"boardhand/internal/gantry"
	"boardhand/internal/gantry/built"
	"boardhand/internal/gantry/clock"
	"boardhand/internal/gantry/firmware"
)

// bed is a gantry with a simulated controller and machine, which share no code
// with the driver.
type bed struct {
	*Gantry
	server  *firmware.Server
	clock   *clock.Clock
	machine *built.Machine
	wires   []end
	said    []string
}

// newBed builds a machine by the rig of benchRig.
func newBed(t *testing.T, over map[int]float64, lines ...string) *bed {
	t.Helper()
	set := map[int]float64{}
	for n, text := range benchSettings() {
		set[n], _ = strconv.ParseFloat(text, 64)
	}
	for n, v := range over {
		set[n] = v
	}
	parts := []built.Axis{
		{PerMM: set[100], Length: 340, Start: 120, SwitchAt: 0.5},
		{PerMM: set[101], Length: 340, Start: 80, SwitchAt: 0.5},
		{PerMM: set[102], Length: 40, Start: 9, SwitchAt: 0.5},
	}
	o := firmware.Options{Settings: set}
	if lines != nil { // the lift hangs on an output
		parts, o.Cycles = parts[:2], [][]int{{0, 1}}
	}
	b := &bed{clock: clock.New(1), machine: built.New(parts...)}
	f := firmware.New(firmware.Motors{Machine: b.machine}, o)
	b.server = firmware.NewServer(f, b.clock)
	g, err := New(benchRig(t, lines...), func() (io.ReadWriteCloser, error) {
		a, z := newPipe(), newPipe()
		b.wires = append(b.wires, end{a, z})
		go func() { _ = b.server.Serve(end{z, a}) }()
		return end{a, z}, nil
	}, func(s string) { b.said = append(b.said, s) })
	must(t, err)
	b.Gantry = g
	return b
}

// inBed runs a test with a simulated controller, in time of its own.
func inBed(t *testing.T, over map[int]float64, lines []string, run func(*testing.T, *bed)) {
	t.Helper()
	synctest.Test(t, func(t *testing.T) {
		b := newBed(t, over, lines...)
		defer finish(b.Gantry)
		run(t, b)
	})
}

// astray is how far, m, the carriage may truly be from where the driver says, on a spoilt wire too: as
// the page of controllers says.
const astray = 0.1e-3

// stands compares where the carriage truly is with where the driver says.
func (b *bed) stands(t *testing.T, at spot) {
	t.Helper()
	x, y := b.machine.Carriage()
	home := 2.5 // where the switches close, and what is backed off
	if math.Abs(x-home-at.X*1e3) > 1e3*astray || math.Abs(y-home-at.Y*1e3) > 1e3*astray {
		t.Errorf("the carriage is at %.3f, %.3f mm and the driver says %.3f, %.3f mm", x-home, y-home, at.X*1e3, at.Y*1e3)
	}
}

// The driver against the simulated firmware: time as predicted, the planner never
// dry, no byte lost, every stroke's end where the machine truly is.
func TestAgainstFirmware(t *testing.T) {
	const seed = 3
	t.Log("seed", seed)
	rnd := rand.New(rand.NewPCG(seed, 0))
	for _, junction := range []float64{0.010, 0.050} {
		inBed(t, map[int]float64{11: junction}, nil, func(t *testing.T, b *bed) {
			at, err := b.Home(t.Context())
			must(t, err)
			b.stands(t, at)
			late, n := 0.0, 12
			for i := range n {
				_, s := randomStroke(rnd)
				s.Path[0] = b.here()
				p := b.writer.program(b.here(), s, false)
				took := b.timed(t, func() { at, err = b.Move(t.Context(), s) })
				must(t, err)
				b.stands(t, at)
				if off := math.Abs(took-p.seconds) / p.seconds; off > late {
					late = off
				}
				if i%4 == 0 {
					must(t, b.Lift(t.Context(), i%8 == 0))
				}
			}
			c := b.server.Counters()
			t.Logf("$11=%.3f: %d strokes of %d lines, at most %.1f %% other time than predicted; starved %d, braked %d, overrun %d", junction, n, c.Lines, 100*late, c.Starved, c.Braked, c.Overrun)
			if late > 0.05 || c.Starved > 0 || c.Overrun > 0 || c.Faults > 0 || c.Alarms > 0 {
				t.Errorf("%+v", c)
			}
			if b.dry > 0 || len(b.said) > 0 {
				t.Errorf("dry %d, said %q", b.dry, b.said)
			}
		})
	}
}

// timed is how long the axes moved, s.
func (b *bed) timed(t *testing.T, move func()) float64 {
	t.Helper()
	done := make(chan struct{})
	go func() { defer close(done); move() }()
	first, last := time.Time{}, time.Time{}
	x, y := b.machine.Carriage()
	for {
		select {
		case <-done:
			return last.Sub(first).Seconds()
		case <-time.After(time.Millisecond):
		}
		b.server.Counters() // brings it to now
		nx, ny := b.machine.Carriage()
		if nx != x || ny != y {
			if last = time.Now(); first.IsZero() {
				first = last
			}
		}
		x, y = nx, ny
	}
}

// Halt, alarms, power, a pulled plug: the machine stands, nothing moves before
// homing, and after it the driver is right again.
func TestFirmwareTroubles(t *testing.T) {
	for name, c := range map[string]struct {
		do   func(t *testing.T, b *bed)
		want string
	}{
		"halt":  {func(t *testing.T, b *bed) { must(t, b.Halt()) }, gantry.ErrHalted.Error()},
		"power": {func(t *testing.T, b *bed) { b.server.Do(func(f *firmware.Firmware) { f.Power() }) }, "started anew"},
		"plug":  {func(t *testing.T, b *bed) { _ = b.wires[0].Close() }, "plug it in"},
		"reset": {func(t *testing.T, b *bed) { b.server.Do(func(f *firmware.Firmware) { f.Receive([]byte{0x18}) }) }, "reset while it moved"},
		"hold":  {func(t *testing.T, b *bed) { b.server.Do(func(f *firmware.Firmware) { f.Receive([]byte{'!'}) }) }, `"Hold" in the middle`},
		"bytes": {func(t *testing.T, b *bed) { b.server.Do(func(f *firmware.Firmware) { f.Receive([]byte("G1X\n")) }) }, "controller"},
	} {
		t.Run(name, func(t *testing.T) {
			inBed(t, nil, nil, func(t *testing.T, b *bed) {
				_, err := b.Home(t.Context())
				must(t, err)
				go func() {
					time.Sleep(600 * time.Millisecond)
					c.do(t, b)
				}()
				_, err = b.Move(t.Context(), across())
				if err == nil || !strings.Contains(err.Error(), c.want) {
					t.Fatalf("said %v, want %q", err, c.want)
				}
				time.Sleep(2 * time.Second)
				b.server.Counters()
				x, y := b.machine.Carriage()
				if _, err = b.Move(t.Context(), across()); !errors.Is(err, gantry.ErrNoHome) && !errors.Is(err, gantry.ErrHalted) {
					t.Errorf("moved: %v", err)
				}
				time.Sleep(time.Minute)
				b.server.Counters()
				if nx, ny := b.machine.Carriage(); name != "plug" && (nx != x || ny != y) {
					t.Errorf("moved from %.3f, %.3f to %.3f, %.3f", x, y, nx, ny)
				}
				at, err := b.Home(t.Context())
				must(t, err)
				b.stands(t, at)
				at, err = b.Move(t.Context(), across())
				must(t, err)
				b.stands(t, at)
			})
		})
	}
}
