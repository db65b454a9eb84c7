// SPDX-License-Identifier: Apache-2.0

package motion

import (
	"fmt"

	"boardhand/internal/unit"
)

// Lag says that a stroke ended where it should, but that an axis was behind its
// motion on the way by more than the machine's tolerance: what the carriage
// dragged may not have gone the planned way. It is told with the place reached.
type Lag struct {
	Axis   string      // "x" or "y"
	Behind unit.Length // at most
}

// Error says what to do.
func (l *Lag) Error() string {
	return fmt.Sprintf("axis %s was up to %.1f mm behind its motion: lower axis.%s.speed or axis.%s.acceleration, or look for what brakes it",
		l.Axis, l.Behind.MM(), l.Axis, l.Axis)
}

// Stall says that an axis stopped on the way and did not go on.
type Stall struct {
	Axis string      // "x" or "y"
	At   unit.Length // where it stands, machine frame
}

// Error says what to do.
func (s *Stall) Error() string {
	return fmt.Sprintf("axis %s is stalled at %.1f mm: look for what blocks it, or lower its speed", s.Axis, s.At.MM())
}

// Gone says that a motor controller, or a motor, is not there any more, or does not answer: its plug
// is pulled, or it has no supply. Where the axes stand is then unknown until they have been homed.
type Gone struct{ Why error } // which says what to do

// Error is why.
func (g *Gone) Error() string { return g.Why.Error() }

// Unwrap is why.
func (g *Gone) Unwrap() error { return g.Why }
