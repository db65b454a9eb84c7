// SPDX-License-Identifier: Apache-2.0

package drag

import (
	"math"

	"boardhand/internal/magnet"
	"boardhand/internal/unit"
)

// Settling says how a carriage leaves a piece centred on its square.
type Settling struct {
	Lead  unit.Length // stop this far past the target
	Back  unit.Length // then come back by this much: the magnet is under the piece again
	Stick unit.Length // an offset up to which the resting piece stays: Back must be below
	Error unit.Length // how far from the target the piece may then lie
}

// Settle gives the overshoot and the stroke back after it. Behind a moving
// magnet a piece swings about the lag of sliding friction: it breaks away at
// the lag of static friction, and dry friction of constant size does not damp
// the swing. So it comes to rest between the static lag and as far on the other
// side of the sliding lag. The lead is the middle, Error half the width. Coming
// back by the lead keeps the offset inside what static friction holds, so the
// piece does not move and ends over the magnet. a is the braking, positive.
// Range: as Lag. Source: the force law with static and sliding friction.
func (s Stand) Settle(a unit.Acceleration) (Settling, error) {
	l, stick, err := s.rests(a)
	if err != nil {
		return Settling{}, err
	}
	return l.Settling(stick), nil
}

// Settling is the lead for the middle of places of rest, stick the offset that static friction
// holds; all metres.
func (l Lags) Settling(stick unit.Length) Settling {
	mid := (l.Least + l.Most) / 2
	return Settling{Lead: mid, Back: mid, Stick: stick, Error: l.Most - mid}
}

// rests gives the least and most lag at which the piece may come to rest when
// the magnet brakes at a, and the offset static friction holds.
func (s Stand) rests(a unit.Acceleration) (Lags, unit.Length, error) {
	sliding, err := s.Lag(s.Kinetic, 0)
	if err != nil {
		return Lags{}, 0, err
	}
	braking, err := s.Lag(s.Kinetic, -a)
	if err != nil {
		return Lags{}, 0, err
	}
	held, err := s.Lag(s.Static, 0)
	return Lags{min(2*sliding-held, 2*braking-held), held}, held, err
}

// Start is how a magnet leaves a piece that stands over it: from rest, gaining speed at
// Accel up to Speed. Accel 0: it has full speed when the piece breaks away, as after a
// snag or with one that a finger held.
type Start struct {
	Speed unit.Speed
	Accel unit.Acceleration
}

// broken is the moment at which a piece breaks away: the offset, how fast the magnet
// moves away from it, √(2·a·offset) and its full speed at most, and how fast it goes on
// gaining speed.
func (s Stand) broken(st Start) (held, speed, accel float64, err error) {
	lag, err := s.Lag(s.Static, 0)
	held, speed, accel = float64(lag), float64(st.Speed), float64(st.Accel)
	if by := math.Sqrt(2 * accel * held); accel > 0 && by < speed {
		return held, by, accel, err
	}
	return held, speed, 0, err
}

// Surge is the largest offset a piece reaches behind a magnet that leaves it: it stands
// until the static lag, then the magnet is already moving away from it. The speed between
// them turns into distance against the net pull, less what the piece needs to keep up:
// ½·m·v² = ∫(lateral − μk·N − m·a) dx from the static lag on. ErrSlips when the pull
// cannot take up that much: the magnet tears off. Range: the stand's reach; a magnet that
// goes on gaining speed. Accuracy 0.01 mm of that; 1 % where it reaches its speed in the
// middle of the piece's swing. Source: work and energy, in the frame of the magnet.
func (s Stand) Surge(st Start) (unit.Length, error) {
	held, speed, a, err := s.broken(st)
	if err != nil {
		return 0, err
	}
	net := func(p magnet.Pull) float64 { return p.Lateral - s.Kinetic*s.Normal(p) - float64(s.Mass)*a }
	left := float64(s.Mass) * speed * speed / 2
	const dx = surgeStep
	last, err := s.at(held, net)
	for x := held; err == nil && x+dx < s.reach(); x += dx {
		if left <= 0 {
			return unit.Length(x), nil
		}
		var next float64
		if next, err = s.at(x+dx, net); next < 0 && last >= 0 && next < last {
			break // beyond the largest pull
		}
		left -= (last + next) / 2 * dx
		last = next
	}
	if err == nil {
		err = ErrSlips
	}
	return 0, err
}

// Tearing is how fast a magnet moves away from a piece as it breaks away, and from which
// speed on it would leave it behind.
type Tearing struct{ At, Off unit.Speed }

// TearOff is the speed at break-away above which the magnet leaves the piece behind: all
// the net pull from the static lag out to where it ends, ½·m·v² = ∫(lateral − μk·N − m·a) dx,
// which falls short at first where m·a is more than sliding frees.
// Range, source: as Surge. Accuracy 1 %.
func (s Stand) TearOff(st Start) (Tearing, error) {
	held, speed, a, err := s.broken(st)
	if err != nil {
		return Tearing{}, err
	}
	net := func(p magnet.Pull) float64 { return p.Lateral - s.Kinetic*s.Normal(p) - float64(s.Mass)*a }
	const dx = workStep
	work, most, last := 0.0, 0.0, 0.0
	for x := held + dx/2; x < s.reach(); x += dx {
		f, err := s.at(x, net)
		if err != nil {
			return Tearing{}, err
		}
		if f < 0 && last > 0 { // beyond the largest pull; at first it may fall short too
			break
		}
		work, last = work+f*dx, f
		most = max(most, work)
	}
	return Tearing{unit.Speed(speed), unit.Speed(math.Sqrt(2 * most / float64(s.Mass)))}, nil
}
