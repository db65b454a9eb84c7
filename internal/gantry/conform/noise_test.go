// SPDX-License-Identifier: Apache-2.0

package conform_test

import (
	"io"
	"math/rand/v2"
	"testing"
	"testing/synctest"
	"time"

	"boardhand/internal/gantry/clock"
	"boardhand/internal/gantry/conform"
	"boardhand/internal/gantry/wire"
	"boardhand/internal/motion"
	"boardhand/internal/unit"
)

// Over a wire that loses, doubles and turns bytes the driver either arrives truly or
// says that it did not: no stroke that is said to be done has ended elsewhere, and
// what comes after an error waits for homing.
func TestGCodeOverABadWire(t *testing.T) {
	for name, f := range map[string]wire.Faults{
		"loss": {Loss: 5e-4}, "double": {Double: 5e-4}, "corrupt": {Corrupt: 5e-4}, "late": {Late: 5e-4, Delay: 300 * time.Millisecond},
	} {
		t.Run(name, func(t *testing.T) {
			synctest.Test(t, func(t *testing.T) { badWire(t, f) })
		})
	}
}

func badWire(t *testing.T, f wire.Faults) {
	f.Seed = 4
	t.Log("seed", f.Seed)
	c := clock.New(1)
	s, m := lineMachine(c)
	var lines []*wire.Line
	opened := uint64(0)
	subject := overLines(t, c, m, func() (io.ReadWriteCloser, error) {
		host, device := wire.Pipe()
		go func() { _ = s.Serve(device) }()
		opened++
		of := f
		of.Seed += opened
		l := wire.New(host, of, c)
		lines = append(lines, l)
		return l, nil
	})
	defer subject.Finish()
	done, failed, homings, unhomed := 0, 0, 0, 0
	rnd := rand.New(rand.NewPCG(f.Seed, 0))
	var zero, at conform.Spot
	isHomed := false
	for range 60 {
		if !isHomed {
			homings++
			var err error
			if at, err = subject.Gantry.Home(t.Context()); err != nil {
				unhomed++
				continue
			}
			isHomed, zero = true, subject.Carriage().Sub(at)
		}
		to := conform.Spot{X: 0.02 + 0.28*rnd.Float64(), Y: 0.02 + 0.28*rnd.Float64()}
		said, err := subject.Gantry.Move(t.Context(), motion.Stroke{Path: []conform.Spot{at, to}, Speed: 0.1, Accel: 0.3, Jerk: unit.Jerk(4), Blend: motion.Blend})
		if err != nil {
			failed++
			isHomed = false
			if _, err := subject.Gantry.Move(t.Context(), motion.Stroke{Path: []conform.Spot{to}, Speed: 0.1, Accel: 0.3}); err == nil {
				t.Errorf("after %v a move was done", err)
			}
			continue
		}
		done++
		if d := subject.Carriage().Sub(zero).Distance(to); d > 0.2e-3 || said.Distance(to) > 0.2e-3 {
			t.Errorf("said to be done, and %.2f mm off", d*1e3)
			isHomed = false
			continue
		}
		at = to
	}
	spoilt := 0
	for _, l := range lines {
		out, back := l.Count()
		spoilt += out + back
	}
	t.Logf("%d bytes spoilt: %d strokes done, %d not, %d of %d homings failed", spoilt, done, failed, unhomed, homings)
	if spoilt == 0 || done == 0 || failed+unhomed == 0 && f.Late == 0 {
		t.Error("nothing was put to the test")
	}
}
