// SPDX-License-Identifier: Apache-2.0

package assess

import (
	"fmt"
	"math"

	"boardhand/internal/axes"
	"boardhand/internal/budget"
	"boardhand/internal/coupling"
)

// Side is one side of the reachable rectangle with what is asked of it.
type Side = axes.Way

func (s *study) sides() [4]Side {
	return axes.Ways(s.Rig, s.settle.Lead+coupling.HomedPlacement(s.Rig))
}

// judgeReach compares the reachable rectangle with squares or removal places.
func (s *study) judgeReach(remove bool) Check {
	c := Check{ID: "reach.field", Title: "Reach over the squares", Unit: "mm",
		Formula: "least of axis travel and wall − carriage, less half the backlash, against " + s.Rig.Board.Outermost() + " squares plus the lead",
		Source:  ownGeometry, Range: "axes parallel to the board"}
	if remove {
		c.ID, c.Title = "reach.removal", "Reach to the removal places"
		c.Formula = "least of axis travel and wall − carriage, less half the backlash, against the removal place plus the lead"
	}
	var short string
	worst := math.Inf(1)
	for i, d := range s.sides() {
		if !remove && d.Remove {
			d.Need = axes.Outermost(s.Rig, i) + s.settle.Lead + coupling.HomedPlacement(s.Rig)
		}
		if remove && !d.Remove {
			continue
		}
		if d.Reach < d.Need {
			short += fmt.Sprintf("; %s %.1f mm short (%s)", d.Name, mm(d.Short()), d.By)
		}
		if spare := mm(d.Reach - d.Need); spare < worst {
			worst = spare
			c = c.AtLeast(mm(d.Reach), mm(d.Need), mm(d.Need))
			c.Why = fmt.Sprintf("tightest on the %s: the magnet gets to %.1f mm (%s), it must get to %.1f mm", d.Name, mm(d.Reach), d.By, mm(d.Need))
		}
	}
	b := builds{s}.errors()
	c = bear(budget.Either(b[budget.Placement]).And(budget.Either(b[budget.Field])).Times(1e3), c, mm(coupling.HomedPlacement(s.Rig)))
	if math.IsInf(worst, 1) {
		c = c.Passed("captured pieces are taken off by hand")
	}
	c.Why += short
	k := s.Rig.Carriage
	c.Explain = fmt.Sprintf("The magnet's axis can go as far as the axes travel and as the carriage's body does not touch a wall: it sticks out %v left, %v right, %v to the front and %v to the back. "+
		"Squares need %s times %v from the middle, and the magnet runs %.1f mm past a piece's place to leave it centred.", k.Left, k.Right, k.Front, k.Back, s.Rig.Board.Outermost(), s.Rig.Board.Square, mm(s.settle.Lead))
	return c
}
