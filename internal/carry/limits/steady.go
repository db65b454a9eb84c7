// SPDX-License-Identifier: Apache-2.0

package limits

import (
	"fmt"
	"math"
	"slices"

	"boardhand/internal/carry/plan"
	"boardhand/internal/drag"
	"boardhand/internal/drive"
	"boardhand/internal/unit"
)

// steady lowers acceleration and jerk until every piece comes to rest near enough to
// its square's middle: the harder the magnet starts and stops, the farther it
// swings about its lag. Of the pairs that do it takes the quickest over a way of
// typical length: a softer jerk allows more acceleration. Where sticking and sliding
// friction differ too much for that, it only keeps the swing from adding to it.
func (c maker) steady(l *plan.Limits) error {
	var swings []drag.Swing
	for _, k := range c.Rig.Pieces.Kinds().All() {
		w, err := c.Stand(k).WorstSwing(c.Spread)
		if err != nil {
			return fmt.Errorf("%s: %w", c.Rig.Pieces.Kinds().Name(k), err)
		}
		swings = append(swings, w)
	}
	most, quickest := l.Carry.Most, math.Inf(1)
	for share := 1.0; share > softest; share *= softer {
		b := most
		for b.Jerk *= share; b.Accel > slowest && c.isAstray(swings, b); {
			b.Accel = math.Max(slowest, steadier*b.Accel)
		}
		s, err := drive.SCurve(typical, drive.Limits{Speed: unit.Speed(b.Speed), Acceleration: unit.Acceleration(b.Accel), Jerk: unit.Jerk(b.Jerk)})
		if err != nil {
			return err
		}
		if t := s.Duration(); t < quickest*(1-1e-9) {
			quickest, l.Carry.Most = t, b
		}
	}
	return nil
}

// isAstray says whether a piece may come to rest too far from its square's middle.
func (c maker) isAstray(swings []drag.Swing, b plan.Bounds) bool {
	return slices.ContainsFunc(swings, func(w drag.Swing) bool {
		return float64(w.Astray(unit.Acceleration(b.Accel), unit.Jerk(b.Jerk))) > astrayShare*float64(c.Rig.Board.Square)
	})
}
