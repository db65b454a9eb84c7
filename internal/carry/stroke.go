package carry

import (
	"boardhand/internal/frame"
	"boardhand/internal/unit"
)

// Stroke is one stretch of carriage motion with the lift where it is.
type Stroke struct {
	Path  []frame.Spot[frame.Machine] // polyline, metres; starts where the carriage is
	Speed unit.Speed                  // limit along the path
	Accel unit.Acceleration           // limit along the path
}
