// SPDX-License-Identifier: Apache-2.0

// Package motion holds what is said to a motor controller and what it says
// back: a stroke of the carriage, and an axis that lagged or stalled.
package motion

import (
	"boardhand/internal/frame"
	"boardhand/internal/unit"
)

// Stroke is one stretch of carriage motion with the lift where it is. The
// machine starts and ends it at rest, changes its acceleration along the path
// no faster than Jerk, and takes a corner on an arc that leaves the corner by
// Blend at most. Each axis' own limits hold besides: a straight piece is run as
// fast as its direction lets both axes, and the acceleration and jerk are what
// every piece allows.
type Stroke struct {
	Path  []frame.Spot[frame.Machine] // polyline, metres; starts where the carriage is
	Speed unit.Speed                  // limit along the path
	Accel unit.Acceleration           // limit along the path, and across it on an arc
	Jerk  unit.Jerk                   // limit along the path; 0: the axes' own
	Blend unit.Length                 // how far an arc may leave its corner; 0: Blend
}
