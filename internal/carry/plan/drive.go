// SPDX-License-Identifier: Apache-2.0

package plan

// Bounds are the most that a motion may do.
type Bounds struct {
	Speed float64 // m/s
	Accel float64 // m/s²
	Jerk  float64 // m/s³
}

// Drive bounds the carriage's motion, with the magnet raised or lowered: what
// holds along a path whatever its direction, and what each axis can do. The
// axes run along the board's sides.
type Drive struct {
	Most Bounds    // along a path
	Axes [2]Bounds // of the x and of the y axis
}

// Moves says whether all limits are more than nothing.
func (d Drive) Moves() bool {
	for _, p := range [3]Bounds{d.Most, d.Axes[0], d.Axes[1]} {
		if !(p.Speed > 0 && p.Accel > 0 && p.Jerk > 0) {
			return false
		}
	}
	return true
}
