// SPDX-License-Identifier: Apache-2.0

package firmware

import (
	"time"

	"boardhand/internal/gantry/built"
	"boardhand/internal/gantry/firmware/blocks"
)

// Motors put a built machine on the controller's outputs: its axes, and its lift on
// the spindle's or the coolant's output, up while that is on.
type Motors struct{ Machine *built.Machine }

// Step turns the motors that are there.
func (m Motors) Step(counts [blocks.Axes]int64, _ time.Duration) {
	for i := range m.Machine.Axes() {
		m.Machine.Turn(i, counts[i])
	}
}

// IsClosed is the switch of an axis.
func (m Motors) IsClosed(axis int) bool { return m.Machine.IsClosed(axis) }

// Spindle raises or lowers the lift.
func (m Motors) Spindle(speed float64, at time.Duration) { m.Machine.Raise(speed != 0, at) }

// Flood raises or lowers the lift.
func (m Motors) Flood(isOn bool, at time.Duration) { m.Machine.Raise(isOn, at) }
