// SPDX-License-Identifier: Apache-2.0

package gcode

import (
	"bytes"
	"io"
	"strings"
	"testing"
	"time"

	"boardhand/internal/gantry/firmware"
)

// deaf is a wire that loses the next so many of some real-time bytes, and keeps the others.
type deaf struct {
	io.ReadWriteCloser
	lost map[byte]int
	kept *[]byte
}

func (w deaf) Write(p []byte) (int, error) {
	if len(p) != 1 {
		return w.ReadWriteCloser.Write(p)
	}
	if w.lost[p[0]] > 0 {
		w.lost[p[0]]--
		return 1, nil
	}
	*w.kept = append(*w.kept, p[0])
	return w.ReadWriteCloser.Write(p)
}

// deafBed is a bed, homed, with the carriage under way on a long stroke.
func deafBed(t *testing.T, lost map[byte]int, run func(t *testing.T, b *bed, kept *[]byte, ended chan error)) {
	inBed(t, nil, nil, func(t *testing.T, b *bed) {
		var kept []byte
		plain := b.open
		b.open = func() (io.ReadWriteCloser, error) {
			w, err := plain()
			return deaf{w, lost, &kept}, err
		}
		_, err := b.Home(t.Context())
		must(t, err)
		kept = nil
		ended := make(chan error, 1)
		go func() {
			_, err := b.Move(t.Context(), across())
			ended <- err
		}()
		time.Sleep(500 * time.Millisecond)
		run(t, b, &kept, ended)
	})
}

// A byte that is lost is said again: the carriage stands, and goes on.
func TestHoldThoughBytesGetLost(t *testing.T) {
	deafBed(t, map[byte]int{feedHold: 2, cycleStart: 2}, func(t *testing.T, b *bed, _ *[]byte, ended chan error) {
		must(t, b.Hold())
		time.Sleep(2 * time.Second)
		x, y := b.machine.Carriage()
		time.Sleep(20 * time.Second)
		b.server.Counters()
		if nx, ny := b.machine.Carriage(); nx != x || ny != y {
			t.Errorf("held, it went from %.2f, %.2f to %.2f, %.2f mm", x, y, nx, ny)
		}
		must(t, b.Resume())
		must(t, <-ended)
		b.stands(t, across().Path[len(across().Path)-1])
	})
}

// Holds do not starve the planner or overrun the buffer, however often they come.
func TestManyHolds(t *testing.T) {
	deafBed(t, nil, func(t *testing.T, b *bed, _ *[]byte, ended chan error) {
		for range 8 {
			must(t, b.Hold())
			time.Sleep(700 * time.Millisecond)
			must(t, b.Resume())
			time.Sleep(150 * time.Millisecond)
		}
		must(t, <-ended)
		if c := b.server.Counters(); c.Starved+c.Overrun+c.Faults > 0 {
			t.Errorf("%+v", c)
		}
	})
}

// A hold that somebody else has begun, at a button of the controller, is not ended by us.
func TestHoldOfSomebodyElse(t *testing.T) {
	deafBed(t, nil, func(t *testing.T, b *bed, kept *[]byte, ended chan error) {
		b.server.Do(func(f *firmware.Firmware) { f.Receive([]byte{feedHold}) })
		if err := <-ended; err == nil || !strings.Contains(err.Error(), `"Hold"`) {
			t.Errorf("it ended with %v", err)
		}
		if bytes.IndexByte(*kept, cycleStart) >= 0 {
			t.Errorf("the carriage was let go on: %q", *kept)
		}
	})
}

// Nothing lets a halted controller go on.
func TestNoResumeAfterAHalt(t *testing.T) {
	deafBed(t, nil, func(t *testing.T, b *bed, kept *[]byte, ended chan error) {
		must(t, b.Hold())
		time.Sleep(time.Second)
		must(t, b.Halt())
		must(t, b.Resume())
		if err := <-ended; err == nil {
			t.Error("a halted stroke was done")
		}
		if bytes.IndexByte(*kept, cycleStart) >= 0 {
			t.Errorf("the carriage was let go on: %q", *kept)
		}
	})
}
