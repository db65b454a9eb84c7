// SPDX-License-Identifier: Apache-2.0

package propose

import (
	"math"
	"reflect"

	"boardhand/internal/rig"
)

// bearing is what of a rig the part of a slot decides.
var bearing = map[slot]func(*rig.Rig) any{
	driveMagnet: func(r *rig.Rig) any { return []any{r.Lift.Diameter, r.Lift.Thickness, r.Lift.Grade} },
	footMagnet: func(r *rig.Rig) any {
		m := r.Pieces.Magnet
		return []any{m.Diameter, m.Thickness, m.Grade, m.Recess}
	},
	sheet: func(r *rig.Rig) any { return r.Board.Thickness },
	feet: func(r *rig.Rig) any {
		var bases []any
		for _, k := range r.Pieces.Kinds().All() {
			bases = append(bases, r.Pieces.Of(k).Base)
		}
		return bases
	},
	gear: func(r *rig.Rig) any {
		x, y := r.Axis.X, r.Axis.Y
		return []any{x.Drive, x.Module, x.Pitch, x.Lead, x.Teeth, y.Drive, y.Module, y.Pitch, y.Lead, y.Teeth}
	},
	motor: func(r *rig.Rig) any { return []any{r.Axis.X.Motor, r.Axis.Y.Motor} },
}

// Price is what the parts cost that a changed rig takes in place of those of another: what
// is owned costs nothing, and neither does what is only set. False where the stock has no
// such part, or no price of it; and for what no stock lists: other pictures, stronger
// supplies and lifts, another board or box.
func (s *Stock) Price(was, now *rig.Rig) (float64, bool) {
	if was.Camera.Image != now.Camera.Image || was.Power.Current != now.Power.Current || was.Lift.Force != now.Lift.Force || was.Controller.Ports != now.Controller.Ports ||
		was.Board.Square != now.Board.Square || !reflect.DeepEqual(was.Walls, now.Walls) {
		return 0, false
	}
	total := 0.0
	for k, of := range bearing {
		if reflect.DeepEqual(of(was), of(now)) {
			continue
		}
		least := math.Inf(1)
		for _, o := range s.options(now)[k] {
			c := *now
			o.put(&c)
			if price, ok := o.cost(need(now, k)); ok && o.from >= 0 && reflect.DeepEqual(of(&c), of(now)) {
				least = min(least, price)
			}
		}
		total += least
	}
	return total, !math.IsInf(total, 1)
}
