// SPDX-License-Identifier: Apache-2.0

package clock_test

import (
	"testing"
	"testing/synctest"
	"time"

	"boardhand/internal/gantry/clock"
)

// Bed time passes faster than real time by the pace, whoever waits by it.
func TestPace(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		for _, pace := range []float64{0.5, 1, 20} {
			real, c := time.Now(), clock.New(pace)
			c.Sleep(10 * time.Second)
			<-c.After(10 * time.Second)
			if bed := c.Now(); bed < 20*time.Second || bed > 20*time.Second+time.Microsecond {
				t.Errorf("pace %g: %v of bed time", pace, bed)
			}
			if got, want := time.Since(real).Seconds(), 20/pace; got < want || got > want+1e-6 {
				t.Errorf("pace %g: %.6f s of real time, want %.6f", pace, got, want)
			}
		}
	})
}
