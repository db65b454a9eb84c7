// SPDX-License-Identifier: Apache-2.0

package limits

import (
	"fmt"
	"math"

	"boardhand/internal/carry/plan"
	"boardhand/internal/unit"
)

// calm lowers the acceleration until every piece comes to rest near enough to
// its square's middle: the harder the magnet starts and stops, the farther it
// swings about its lag. Where sticking and sliding friction differ too much
// for that, it only keeps the swing from adding to it.
func (c maker) steady(l *plan.Limits) error {
	for _, k := range c.Rig.Pieces.Kinds().All() {
		w, err := c.Stand(k).WorstSwing(c.Spread)
		if err != nil {
			return fmt.Errorf("%s: %w", c.Rig.Pieces.Kinds().Name(k), err)
		}
		for l.Carry.Most.Accel > slowest && float64(w.Astray(unit.Acceleration(l.Carry.Most.Accel), unit.Jerk(l.Carry.Most.Jerk))) > astrayShare*float64(c.Rig.Board.Square) {
			l.Carry.Most.Accel = math.Max(slowest, steadier*l.Carry.Most.Accel)
		}
	}
	return nil
}
