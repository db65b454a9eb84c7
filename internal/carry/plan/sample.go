// SPDX-License-Identifier: Apache-2.0

package plan

import "boardhand/internal/frame"

// Sample is where the carriage is at a time.
type Sample struct {
	Time  float64                 // s from the step's start
	Along float64                 // m driven since
	At    frame.Spot[frame.Board] // of the magnet's axis
}
