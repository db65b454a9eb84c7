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
	return l.settling(stick), nil
}

func (l Lags) settling(stick unit.Length) Settling {
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

// Surge is the largest offset a piece reaches behind a magnet moving at speed:
// it stands until the static lag, then the magnet is already moving away from
// it. The speed between them turns into distance against the net pull:
// ½·m·v² = ∫(lateral − μk·N) dx from the static lag on. ErrSlips when the pull
// cannot take up that much: the magnet tears off. Range: the stand's reach;
// the magnet at full speed at break-away, which is the worst. Accuracy 0.01 mm.
// Source: work and energy.
func (s Stand) Surge(speed unit.Speed) (unit.Length, error) {
	held, err := s.Lag(s.Static, 0)
	if err != nil {
		return 0, err
	}
	net := func(p magnet.Pull) float64 { return p.Lateral - s.Kinetic*s.Normal(p) }
	left := float64(s.Mass) * float64(speed) * float64(speed) / 2
	const dx = surgeStep
	last, err := s.at(float64(held), net)
	for x := float64(held); err == nil && x+dx < s.reach(); x += dx {
		if left <= 0 {
			return unit.Length(x), nil
		}
		var next float64
		if next, err = s.at(x+dx, net); next < 0 {
			break
		}
		left -= (last + next) / 2 * dx
		last = next
	}
	if err == nil {
		err = ErrSlips
	}
	return 0, err
}

// TearOff is the speed above which a magnet that moves at once at that speed
// leaves the piece behind: all the net pull from the static lag out to where it
// ends, ½·m·v² = ∫(lateral − μk·N) dx. Range: the stand's reach. Accuracy 1 %.
// Source: work and energy.
func (s Stand) TearOff() (unit.Speed, error) {
	held, err := s.Lag(s.Static, 0)
	if err != nil {
		return 0, err
	}
	net := func(p magnet.Pull) float64 { return p.Lateral - s.Kinetic*s.Normal(p) }
	const dx = workStep
	work := 0.0
	for x := float64(held) + dx/2; x < s.reach(); x += dx {
		f, err := s.at(x, net)
		if err != nil {
			return 0, err
		}
		if f < 0 {
			break
		}
		work += f * dx
	}
	return unit.Speed(math.Sqrt(2 * work / float64(s.Mass))), nil
}
