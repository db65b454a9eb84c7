// SPDX-License-Identifier: Apache-2.0

package drag

import (
	"math"

	"boardhand/internal/unit"
)

// held is the share of what static friction holds that the pull takes at a gap
// and an offset, metres; endless where the base is lifted off.
func (s Stand) held(gap, offset float64) (float64, error) {
	p, err := s.Pull.At(gap, offset)
	if err != nil {
		return 0, err
	}
	if n := s.Normal(p); n > 0 {
		return math.Abs(p.Lateral) / (s.Static * n), nil
	}
	return math.Inf(1), nil
}

// StaysLowered says whether a piece that rests anywhere behind the magnet, up
// to the offset that static friction holds, rests on while the magnet is
// lowered by drop where it is: the pull never takes a larger share of the
// friction than with the magnet raised. A piece that is shaken loose all the
// same slides no further than the swing of Settle, whose two ends are its
// resting places already. It is false for a drive magnet so wide that the pull
// at a small offset grows with the gap. Over the whole spread. Range: the
// stand's reach, gaps of the force law. Source: Coulomb friction.
func (s Stand) StaysLowered(sp Spread, drop unit.Length) (bool, error) {
	for _, c := range s.corners(sp) {
		most, err := c.Lag(c.Static, 0)
		if err != nil {
			return false, err
		}
		for x := restStep; x < float64(most)+restStep; x += restStep {
			if ok, err := c.restsOn(x, float64(drop)); !ok || err != nil {
				return false, err
			}
		}
	}
	return true, nil
}

// restsOn is StaysLowered for one offset.
func (s Stand) restsOn(offset, drop float64) (bool, error) {
	raised, err := s.held(float64(s.Gap), offset)
	if err != nil {
		return false, err
	}
	for down := 0.0; down < drop; {
		down = min(drop, down+max(sinkStep, sinkShare*down))
		if share, err := s.held(float64(s.Gap)+down, offset); share > raised*(1+sinkError) || err != nil {
			return false, err
		}
	}
	return true, nil
}
