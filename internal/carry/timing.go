package carry

import "boardhand/internal/lanes"

// carrying and travelling are the limits of motion with the magnet raised and
// lowered.
func (l Limits) carrying() pace   { return pace{l.CarrySpeed, l.CarryAccel, l.CarryJerk} }
func (l Limits) travelling() pace { return pace{l.TravelSpeed, l.TravelAccel, l.TravelJerk} }

// dragTime is the time to drag a man along a way and settle it, without the
// lift.
func (l Limits) dragTime(w lanes.Way) float64 {
	return rideTime(l.lead(w.Points), l.carrying())
}

// ridden gives each step of a plan the drive of its path, and the way of the
// man behind it.
func (l Limits) ridden(steps []Step) []Step {
	for i := range steps {
		switch s := &steps[i]; s.Do {
		case Travel:
			s.ride = stamps(s.Path, l.travelling())
		case Carry:
			s.ride = stamps(s.Path, l.carrying())
			s.PiecePath = l.trail(s.Path)
		}
	}
	return steps
}
