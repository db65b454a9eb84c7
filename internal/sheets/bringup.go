// SPDX-License-Identifier: Apache-2.0

package sheets

import (
	"fmt"

	"boardhand/internal/axes"
)

// checklist is what is looked at before the first game, in this order.
func checklist(o *Order) (Sheet, error) {
	r, s := o.Rig, newScript(o.Paper)
	sides := axes.Sides(r)
	for _, part := range []struct {
		title string
		ticks []string
	}{
		{"Before power", []string{
			"The cautions are read; nobody with an implant is within 15 cm of a magnet.",
			fmt.Sprintf("The supply is a listed adapter of %s and at least %.2f A, with a fuse; plus and minus are checked at its plug.", o.Parts.Wiring.Supply.Voltage, float64(o.Parts.Wiring.Supply.Least)),
			"Every lead is pushed home, tied every hand's breadth, and free of the racks; no bare wire can be touched.",
			"By hand, power off, the carriage goes from end to end on both axes without catching; no lead pulls at either end or folds.",
			"The switch that cuts the power is in reach without reaching into the machine.",
		}},
		{"Board and lift", []string{
			fmt.Sprintf("A straight-edge across the board shows no more than %s of light, which is the warp in the rig file.", r.Board.Warp),
			fmt.Sprintf("Raised, the drive magnet's face is %s below the underside in the middle and at all four corners.", r.Lift.Air),
			fmt.Sprintf("Lowered, it is %s below that, and no standing piece twitches when it passes under it.", r.Lift.Drop),
		}},
		{"Axes", []string{
			fmt.Sprintf("Homed, the magnet's axis stands %s and %s from the field's centre along x and y; the command for x to the right moves it towards file h, for y towards rank 8.", r.Axis.X.Origin, r.Axis.Y.Origin),
			fmt.Sprintf("It gets %.1f mm to the left, %.1f to the right, %.1f to the front and %.1f to the back of the centre before anything touches.", mm(sides[0].Reach), mm(sides[1].Reach), mm(sides[2].Reach), mm(sides[3].Reach)),
			fmt.Sprintf("A move of 200 mm is 200 mm by the rule; back and forth it returns to within the backlash of the rig file, %s and %s.", r.Axis.X.Backlash, r.Axis.Y.Backlash),
			"The stop works: it is pressed while the carriage moves, and nothing moves again before homing.",
		}},
		{"Pieces", []string{
			fmt.Sprintf("All %d magnets are in, the reference's marked face pulls each base, and the spare ones are counted and put away.", o.Parts.Magnets.Count),
			"The lightest piece follows the magnet along a whole rank and comes to rest in the middle of its square; its neighbours stay.",
			"The heaviest piece follows as well.",
		}},
		{"Camera", []string{
			fmt.Sprintf("It hangs %s over the surface and sees the whole field with a margin; White sits at the %s of the picture.", r.Camera.Height, r.Camera.WhiteSide),
			"boardhand camera RIG names nothing that must be changed.",
			"The lens is measured with the camera target.",
		}},
	} {
		s.heading(part.title)
		for _, t := range part.ticks {
			s.tick(t)
		}
	}
	return Sheet{Title: "Bring-up checklist", Use: "Ticked from top to bottom before the first game.", Pages: s.pages}, nil
}
