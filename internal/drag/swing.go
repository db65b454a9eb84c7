// SPDX-License-Identifier: Apache-2.0

package drag

import (
	"math"

	"boardhand/internal/unit"
)

// Swing is how a piece swings behind the magnet that pulls it: about its
// sliding lag, at Rate.
type Swing struct {
	Rate float64     // rad/s
	Jump unit.Length // from the static lag, where it breaks away, to the sliding one
	Held unit.Length // the static lag
}

// Swing is the free swing for small amplitudes: the net pull at break-away,
// taken as growing evenly from nothing at the sliding lag. Range: as Lag.
// Accuracy: 20 %, since the pull is no straight line. Source: mass on a
// spring, textbook.
func (s Stand) Swing() (Swing, error) {
	sliding, err := s.Lag(s.Kinetic, 0)
	if err != nil {
		return Swing{}, err
	}
	held, err := s.Lag(s.Static, 0)
	if err != nil {
		return Swing{}, err
	}
	const least = leastStick
	at := max(held, sliding+least)
	net, err := s.Net(at, s.Kinetic)
	if err != nil {
		return Swing{}, err
	}
	return Swing{math.Sqrt(max(0, net) / float64(at-sliding) / float64(s.Mass)), held - sliding, held}, nil
}

// WorstSwing is the slowest swing, the largest jump and lag over the spread.
func (s Stand) WorstSwing(sp Spread) (worst Swing, err error) {
	for i, c := range s.corners(sp) {
		w, err := c.Swing()
		if err != nil {
			return Swing{}, err
		}
		if i == 0 {
			worst = w
		}
		worst = Swing{min(worst.Rate, w.Rate), max(worst.Jump, w.Jump), max(worst.Held, w.Held)}
	}
	return worst, nil
}

// Astray is how far from its lag a piece may come to rest behind a magnet
// driven from rest to rest with this acceleration and jerk. It breaks away
// while the magnet moves already, and swings on undamped, since dry friction
// does not brake a swing in motion; each of the four changes of acceleration
// may add its share: all of a/ω² when it is sudden, and 2/(ωτ) of that when it
// takes a time τ long against the swing. Range: accelerations at which the
// piece follows. Accuracy: a bound, up to twice what happens. Source: linear
// oscillator under a ramp, textbook.
func (w Swing) Astray(a unit.Acceleration, j unit.Jerk) unit.Length {
	held := float64(w.Held)
	start := math.Min(math.Sqrt(2*float64(a)*held), math.Cbrt(4.5*float64(j)*held*held)) // v = (j/2)·(6x/j)^⅔
	ramp := w.Rate * float64(a) / float64(j)
	jolt := float64(a) / (w.Rate * w.Rate) * math.Min(1, 2/ramp)
	return unit.Length(math.Hypot(float64(w.Jump), start/w.Rate) + 4*jolt)
}
