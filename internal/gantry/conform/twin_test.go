// SPDX-License-Identifier: Apache-2.0

package conform_test

import (
	"testing"

	"boardhand/internal/gantry/clock"
	"boardhand/internal/gantry/conform"
	"boardhand/internal/rig"
	"boardhand/internal/twin"
	"boardhand/internal/unit"
)

// The twin's gantry does what any gantry must.
func TestTwin(t *testing.T) {
	conform.Run(t, func(t *testing.T) *conform.Subject {
		r := rig.Default()
		none, err := twin.NoDeviations(r)
		if err != nil {
			t.Fatal(err)
		}
		w, err := twin.New(r, twin.Options{Seed: 1, Deviations: &none, FEN: "4k3/8/8/8/8/8/8/4K3 b - - 0 1", Pace: 1})
		if err != nil {
			t.Fatal(err)
		}
		machineFromBoard := r.MachineFromBoard()
		g := w.Gantry()
		return &conform.Subject{
			Gantry: g, Holder: g, Clock: clock.New(1), Slow: r.Axis.X.Speed / 2,
			Travel: conform.Spot{X: float64(r.Axis.X.Travel), Y: float64(r.Axis.Y.Travel)},
			Within: unit.MM(0.1), Play: r.Axis.X.Backlash,
			Carriage: func() conform.Spot { return machineFromBoard.Apply(w.Truth().Magnet.At(0)).Spot() },
			Lifted:   func() float64 { return map[bool]float64{true: 1}[w.Truth().Raised] },
		}
	})
}
