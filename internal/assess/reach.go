// SPDX-License-Identifier: Apache-2.0

package assess

import (
	"fmt"
	"math"

	"boardhand/internal/axes"
	"boardhand/internal/coupling"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// Side is one side of the reachable rectangle with what is asked of it, metres
// from the field's centre.
type Side struct {
	axes.Side
	Need   unit.Length // how far it must get
	Remove bool        // the need comes from a removal place
}

// Short is by how much the side falls short; negative: room left.
func (s Side) Short() unit.Length { return s.Need - s.Reach }

// sidesOf are the four sides with what they need for the field and its
// captures. lead is how far the magnet runs past a square.
func sidesOf(r *rig.Rig, lead unit.Length) (out [4]Side) {
	for i, side := range axes.Sides(r) {
		field := outermost(r, i)
		out[i] = Side{Side: side, Need: field + lead}
		if take := removal(r, i); take > field {
			out[i].Need, out[i].Remove = take+lead, true
		}
	}
	return out
}

// outermost is how far from the field's centre, to a side, the middle of a square
// at its edge is.
func outermost(r *rig.Rig, side int) unit.Length {
	return unit.Length(along(r, side)-1) / 2 * r.Board.Square
}

// along is how many squares lie between a side and the one across.
func along(r *rig.Rig, side int) int {
	if side < 2 {
		return r.Board.Files
	}
	return r.Board.Ranks
}

// removal is how far a side must reach for captured pieces.
func removal(r *rig.Rig, i int) unit.Length {
	x, y := r.Board.Half()
	switch r.Removal.Mode {
	case "tray":
		if i < 2 {
			return x + r.Removal.Gap
		}
		return y * unit.Length(1-1/float64(max(r.Removal.Slots, 1)))
	case "chute":
		at := [4]unit.Length{-r.Removal.Chute[0], r.Removal.Chute[0], -r.Removal.Chute[1], r.Removal.Chute[1]}
		return at[i]
	}
	return 0
}

func (s *study) sides() [4]Side { return sidesOf(s.Rig, s.settle.Lead+unit.Length(coupling.Placement)) }

// judgeReach compares the reachable rectangle with squares or removal places.
func (s *study) judgeReach(remove bool) Check {
	c := Check{ID: "reach.field", Title: "Reach over the squares", Unit: "mm",
		Formula: "least of axis travel and wall − carriage, less half the backlash, against " + s.outermostSquares() + " squares plus the lead",
		Source:  ownGeometry, Range: "axes parallel to the board"}
	if remove {
		c.ID, c.Title = "reach.removal", "Reach to the removal places"
		c.Formula = "least of axis travel and wall − carriage, less half the backlash, against the removal place plus the lead"
	}
	var short string
	worst := math.Inf(1)
	for i, d := range s.sides() {
		if !remove && d.Remove {
			d.Need = outermost(s.Rig, i) + s.settle.Lead + unit.Length(coupling.Placement)
		}
		if remove && !d.Remove {
			continue
		}
		if d.Reach < d.Need {
			short += fmt.Sprintf("; %s %.1f mm short (%s)", d.Name, mm(d.Short()), d.By)
		}
		if spare := mm(d.Reach - d.Need); spare < worst {
			worst = spare
			c = c.atLeast(mm(d.Reach), mm(d.Need), mm(d.Need)+1)
			c.Why = fmt.Sprintf("tightest on the %s: the magnet gets to %.1f mm (%s), it must get to %.1f mm", d.Name, mm(d.Reach), d.By, mm(d.Need))
		}
	}
	if math.IsInf(worst, 1) {
		c = c.passed("captured pieces are taken off by hand")
	}
	c.Why += short
	k := s.Rig.Carriage
	c.Explain = fmt.Sprintf("The magnet's axis can go as far as the axes travel and as the carriage's body does not touch a wall: it sticks out %v left, %v right, %v to the front and %v to the back. "+
		"Squares need %s times %v from the middle, and the magnet runs %.1f mm past a piece's place to leave it centred.", k.Left, k.Right, k.Front, k.Back, s.outermostSquares(), s.Rig.Board.Square, mm(s.settle.Lead))
	return c
}

// outermostSquares is how many squares from the centre the outermost middles are:
// one number, or one to the sides and one to front and back.
func (s *study) outermostSquares() string {
	x, y := float64(s.Rig.Board.Files-1)/2, float64(s.Rig.Board.Ranks-1)/2
	if x == y {
		return fmt.Sprint(x)
	}
	return fmt.Sprintf("%g (sides) and %g (front and back)", x, y)
}
