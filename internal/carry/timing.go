package carry

import (
	"boardhand/internal/carry/trajectory"
	"boardhand/internal/lanes"
)

// dragTime is the time to drag a piece along a way and settle it, without the
// lift.
func (l margins) dragTime(w lanes.Way) float64 {
	return trajectory.Time(trajectory.Lead(w.Points, l.Limits), l.Carry)
}
