// SPDX-License-Identifier: Apache-2.0

package drive

// The shape of a profile, measured on its stretches: the program itself asks
// only how long a move takes.

// Length of the move in metres.
func (p Profile) Length() float64 { return p.length }

// PeakSpeed is the largest speed, m/s: at the start of a stretch, since none
// has its greatest speed inside.
func (p Profile) PeakSpeed() float64 {
	most := 0.0
	for _, f := range p.phases[:p.count] {
		most = max(most, f.at.Speed)
	}
	return most
}

// PeakAcceleration is the largest acceleration, m/s².
func (p Profile) PeakAcceleration() float64 {
	most := 0.0
	for _, f := range p.phases[:p.count] {
		most = max(most, f.at.Acceleration, f.after(f.end-f.start).Acceleration)
	}
	return most
}

// Ramp is the time to reach the peak speed, seconds.
func (p Profile) Ramp() float64 {
	for _, f := range p.phases[:p.count] {
		if f.at.Speed == p.PeakSpeed() {
			return f.start
		}
	}
	return 0
}

// Cruise is the time at the peak speed, seconds.
func (p Profile) Cruise() float64 { return max(p.Duration()-2*p.Ramp(), 0) }

// JerkTime is the time the acceleration takes to build up, seconds.
func (p Profile) JerkTime() float64 {
	if p.count == 0 || p.phases[0].jerk == 0 {
		return 0
	}
	return p.phases[0].end
}
