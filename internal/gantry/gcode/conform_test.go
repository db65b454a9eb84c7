// SPDX-License-Identifier: Apache-2.0

package gcode

import (
	"errors"
	"io"
	"math"
	"testing"
	"testing/synctest"
	"time"

	"boardhand/internal/gantry"
	"boardhand/internal/gantry/clock"
	"boardhand/internal/gantry/conform"
	"boardhand/internal/gantry/wire"
	"boardhand/internal/unit"
)

// The driver does what any gantry must, on each kind of lift.
func TestConforms(t *testing.T) {
	for name, lines := range map[string][]string{"axis": nil, "spindle": {`lift = "spindle"`, `lift_up = 1000`, `settle = "0.6 s"`}, "coolant": {`lift = "coolant"`, `settle = "0.6 s"`}} {
		t.Run(name, func(t *testing.T) {
			conform.Run(t, func(t *testing.T) *conform.Subject { return newSubject(t, lines) })
		})
	}
}

// newSubject is a driver with a simulated controller and machine behind a port that
// can be pulled.
func newSubject(t *testing.T, lines []string) *conform.Subject {
	t.Helper()
	b := newBed(t, nil, lines...)
	port := &wire.Port{Serve: b.server.Serve}
	b.open = func() (io.ReadWriteCloser, error) {
		for _, name := range port.Names() {
			return port.Open(name)
		}
		return nil, wire.ErrNoDevice
	}
	now := func() time.Duration { b.server.Counters(); return b.clock.Now() }
	s := &conform.Subject{Gantry: b.Gantry, Holder: b.Gantry, Clock: clock.New(1), Slow: 0.06, Travel: conform.Spot{X: 0.336, Y: 0.336},
		Within: unit.MM(0.05), Cut: port.Unplug, Mend: port.Plug,
		Carriage: func() conform.Spot {
			now()
			x, y := b.machine.Carriage()
			return conform.Spot{X: x / 1e3, Y: y / 1e3}
		},
		Lifted: func() float64 {
			at := now()
			if lines != nil {
				return b.machine.Lift(at)
			}
			return math.Round(1e3*(b.machine.Axis(2)-2.5)/20)/1e3 + 0
		},
		Finish: func() { _ = b.Close(); port.Unplug(); time.Sleep(time.Second) }}
	return s
}

// Bytes that get lost, come twice or changed on their way back: a stroke ends truly
// where the driver says, or with an error, and nothing moves before homing.
func TestSpoiltWire(t *testing.T) {
	done, failed := 0, 0
	for seed := range uint64(30) {
		synctest.Test(t, func(t *testing.T) {
			b := newBed(t, nil)
			defer finish(b.Gantry)
			plain, f := b.open, wire.Faults{Seed: seed}
			b.open = func() (io.ReadWriteCloser, error) {
				w, err := plain()
				return back{w, wire.New(w, f, b.clock)}, err
			}
			_, err := b.Home(t.Context())
			must(t, err)
			switch seed % 3 {
			case 0:
				f.Loss = 1e-3
			case 1:
				f.Double = 1e-3
			case 2:
				f.Corrupt = 1e-3
			}
			_ = b.link.wire.Close() // from here on the line is spoilt
			time.Sleep(time.Second)
			for range 4 {
				if _, err := b.Home(t.Context()); err != nil {
					failed++
					continue
				}
				at, err := b.Move(t.Context(), across())
				time.Sleep(3 * time.Second)
				b.server.Counters()
				if err == nil {
					done++
					b.stands(t, at)
					continue
				}
				failed++
				x, y := b.machine.Carriage()
				if _, err := b.Move(t.Context(), across()); !errors.Is(err, gantry.ErrNoHome) {
					t.Errorf("seed %d: moved: %v", seed, err)
				}
				time.Sleep(10 * time.Second)
				b.server.Counters()
				if nx, ny := b.machine.Carriage(); nx != x || ny != y {
					t.Errorf("seed %d: moved from %.3f, %.3f to %.3f, %.3f after %v", seed, x, y, nx, ny, err)
				}
			}
		})
	}
	t.Logf("%d strokes done, %d homings or strokes failed", done, failed)
	if done == 0 || failed == 0 {
		t.Error("the faults do not tell anything")
	}
}

// back is a wire that is spoilt on the way back only.
type back struct {
	io.ReadWriteCloser
	spoilt io.Reader
}

func (b back) Read(p []byte) (int, error) { return b.spoilt.Read(p) }
