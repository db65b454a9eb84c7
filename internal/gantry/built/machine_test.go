// SPDX-License-Identifier: Apache-2.0

package built_test

import (
	"math"
	"testing"
	"time"

	"boardhand/internal/gantry/built"
)

func near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if math.Abs(got-want) > 1e-9 {
		t.Errorf("%s: %.6f, want %.6f", what, got, want)
	}
}

// Play is lost at each turn round, scale and skew carry through to the carriage.
func TestPlayScaleAndSkew(t *testing.T) {
	m := built.New(built.Axis{PerMM: 10, Length: 100, Start: 50, Backlash: 1}, built.Axis{PerMM: 10, Length: 100, Start: 10, Scale: 1.02})
	m.Skew = 0.01
	m.Turn(0, 100) // 10 mm on: half the play from the middle
	near(t, "forward", m.Axis(0), 59.5)
	m.Turn(0, 95)
	near(t, "back within the play", m.Axis(0), 59.5)
	m.Turn(0, 80)
	near(t, "back", m.Axis(0), 58.5)
	m.Turn(1, 100)
	near(t, "scaled", m.Axis(1), 20.2)
	x, y := m.Carriage()
	near(t, "skewed", x, 58.5+0.01*20.2)
	near(t, "y", y, 20.2)
}

// An end takes from a motor what it turns beyond, a held axis all; switches close near
// their end.
func TestEndsAndSwitches(t *testing.T) {
	m := built.New(built.Axis{PerMM: 10, Length: 100, Start: 2, SwitchAt: 1}, built.Axis{PerMM: 10, Length: 100, Start: 50, SwitchAt: 1, AtTop: true})
	if m.IsClosed(0) || m.IsClosed(1) || m.Blocks(0, -1) {
		t.Error("closed in the open")
	}
	m.Turn(0, -50)
	m.Turn(1, 495)
	if !m.IsClosed(0) || !m.IsClosed(1) || !m.Blocks(0, -1) || m.Blocks(0, 1) {
		t.Error("open at the ends")
	}
	near(t, "missed", m.Missed(), 3)
	m.Turn(0, -40)
	near(t, "back on", m.Axis(0), 1)
	m.Hold(0)
	m.Turn(0, 60)
	near(t, "held", m.Axis(0), 1)
	m.Free(0)
	m.Turn(0, 70)
	near(t, "freed", m.Axis(0), 2)
}

// A lift on an output takes its time both ways, from wherever it is.
func TestLift(t *testing.T) {
	m := built.New(built.Axis{PerMM: 1, Length: 1}, built.Axis{PerMM: 1, Length: 1})
	m.Raise(true, time.Second)
	near(t, "half way", m.Lift(1250*time.Millisecond), 0.5)
	m.Raise(false, 1250*time.Millisecond)
	near(t, "turned round", m.Lift(1350*time.Millisecond), 0.3)
	near(t, "down", m.Lift(3*time.Second), 0)
	if m.Lifts() != 2 {
		t.Errorf("%d ways", m.Lifts())
	}
}
