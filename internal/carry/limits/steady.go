// SPDX-License-Identifier: Apache-2.0

package limits

import (
	"fmt"
	"math"

	"boardhand/internal/carry/plan"
	"boardhand/internal/game"
	"boardhand/internal/unit"
)

const (
	// astrayShare is how far from the middle, as a share of the square, a
	// carried piece may come to rest: what looks placed on purpose.
	astrayShare = 0.03
	// slowest is an acceleration below which a piece's own swing no longer counts
	// beside sticking and sliding friction, m/s². Common practice, no source.
	slowest = 0.3
)

// calm lowers the acceleration until every piece comes to rest near enough to
// its square's middle: the harder the magnet starts and stops, the farther it
// swings about its lag. Where sticking and sliding friction differ too much
// for that, it only keeps the swing from adding to it.
func (c maker) steady(l *plan.Limits) error {
	for _, k := range game.Kinds {
		w, err := c.Stand(k).WorstSwing(c.Spread)
		if err != nil {
			return fmt.Errorf("%v: %w", k, err)
		}
		for l.Carry.Most.Accel > slowest && float64(w.Astray(unit.Acceleration(l.Carry.Most.Accel), unit.Jerk(l.Carry.Most.Jerk))) > astrayShare*float64(c.Rig.Board.Square) {
			l.Carry.Most.Accel = math.Max(slowest, 0.9*l.Carry.Most.Accel)
		}
	}
	return nil
}
