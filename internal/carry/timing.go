package carry

import "boardhand/internal/lanes"

// dragTime is the time to drag a man along a way and settle it, without the
// lift.
func (l Limits) dragTime(w lanes.Way) float64 {
	return rideTime(l.lead(w.Points), l.Carry)
}

// ridden gives each step of a plan the drive of its path, and the way of the
// man behind it.
func (l Limits) ridden(steps []Step) []Step {
	for i := range steps {
		switch s := &steps[i]; s.Do {
		case Travel:
			s.ride = stamps(s.Path, l.Travel)
		case Carry:
			s.ride = stamps(s.Path, l.Carry)
			s.PiecePath = l.trail(s.Path)
		}
	}
	return steps
}
