// SPDX-License-Identifier: Apache-2.0

package coupling

import (
	"errors"

	"boardhand/internal/drag"
	"boardhand/internal/unit"
)

// Braking is the acceleration of the carriage along its path: the smaller of the two axes',
// since a path may run along either.
func (c Coupling) Braking() unit.Acceleration {
	return min(c.Rig.Axis.X.Acceleration, c.Rig.Axis.Y.Acceleration)
}

// Start is how the magnet leaves a standing piece: a carry keeps to the smaller of both
// axes' speeds and accelerations.
func (c Coupling) Start() drag.Start {
	return drag.Start{Speed: min(c.Rig.Axis.X.Speed, c.Rig.Axis.Y.Speed), Accel: c.Braking()}
}

// Moves is what the lightest and the heaviest piece do when they are carried, over the spread.
type Moves struct {
	Lags   drag.Lags     // at an even speed
	Settle drag.Settling // the lead for the middle of all places of rest
	Surge  unit.Length   // the largest offset in motion of those that are not torn off
	IsTorn bool          // one may be torn off when the magnet leaves it
}

// Moves computes them. With an error it holds what was computed before.
func (c Coupling) Moves() (out Moves, err error) {
	var rests drag.Lags
	var stick unit.Length
	for i, k := range c.Extremes() {
		st := c.Stand(k)
		l, err := st.LagRange(c.Spread, st.Kinetic, 0)
		if err != nil {
			return out, err
		}
		t, err := st.SettleOver(c.Spread, c.Braking())
		if err != nil {
			return out, err
		}
		rest := drag.Lags{Least: t.Lead - t.Error, Most: t.Lead + t.Error}
		if i == 0 {
			out.Lags, rests, stick = l, rest, t.Stick
		}
		out.Lags = drag.Lags{Least: min(out.Lags.Least, l.Least), Most: max(out.Lags.Most, l.Most)}
		rests = drag.Lags{Least: min(rests.Least, rest.Least), Most: max(rests.Most, rest.Most)}
		out.Settle = rests.Settling(stick)
		x, err := st.WorstSurge(c.Spread, c.Start())
		if out.IsTorn = out.IsTorn || errors.Is(err, drag.ErrSlips); err != nil && !errors.Is(err, drag.ErrSlips) {
			return out, err
		}
		out.Surge = max(out.Surge, x)
	}
	return out, nil
}
