// SPDX-License-Identifier: Apache-2.0

package assess

import (
	"fmt"
	"math"

	"boardhand/internal/budget"
	"boardhand/internal/coupling"
	"boardhand/internal/drag"
	"boardhand/internal/magnet"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// judgeRoom asks whether carriage and lift fit between floor and board.
func judgeRoom(r *rig.Rig) Check {
	c := Check{ID: "lift.room", Title: "Height inside the walls", Unit: "mm",
		Formula: "air + drop + carriage's height + clearance against walls.height", Source: ownGeometry, Range: "carriage.height from its lowest part to the magnet's face, board on top of the walls"}
	w, l, k := r.Walls.Height, r.Lift, r.Carriage.Height
	if w == 0 || k == 0 {
		return c.Passed("walls.height or carriage.height is not given")
	}
	need := mm(l.Air+l.Drop+k) + overFloor
	c = c.AtLeast(mm(w), need, need+overFloor)
	c.Why = fmt.Sprintf("the walls are %.1f mm high; a carriage of %v, lowered by %v and %v below the board, takes %.1f mm with %.0f mm over the floor", mm(w), k, l.Drop, l.Air, need, overFloor)
	c.Explain = "The carriage hangs below the board by its own height, the lift's drop and the air. Guides, screws and leads under it, and a floor that is not flat, come on top. This is the first thing that does not fit in a real box."
	return c
}

// judgeHeld asks what the board lies on.
func judgeHeld(r *rig.Rig) Check {
	c := Check{ID: "board.held", Title: "Board on its walls", Unit: "mm",
		Formula: "half the sheet (field, border, rim) − inside face of the wall, the smaller of two opposite sides", Source: ownGeometry, Range: "board in the middle of its walls"}
	if r.Board.Held != "walls" {
		return c.Passed(fmt.Sprintf("board.held is %q: it must stay clear of the carriage", r.Board.Held))
	}
	c.Explain = "The board must lie on something: on the tops of the walls, or on strips and posts inside them (board.held = \"ledge\"), which then must stay clear of the carriage's way. A rim of plain sheet beyond the printed border (board.rim) reaches the walls. Lying on two sides only, a thin sheet sags between them."
	x, y := r.Board.Sheet()
	w := r.Walls
	if w.Left == 0 || w.Right == 0 || w.Front == 0 || w.Back == 0 {
		return c.Passed("the rig does not say where all walls are")
	}
	on := func(half, a, b unit.Length) float64 { return math.Min(mm(half-max(a, b)), mm(w.Depth())) }
	across, along := on(x, w.Left, w.Right), on(y, w.Front, w.Back)
	worse, better := math.Min(across, along), math.Max(across, along)
	c = c.AtLeast(better, leastRest, leastRest)
	if c.Verdict == Pass && worse < leastRest {
		c.Value = worse
		c = c.Warned(true, leastRest)
	}
	c.Why = fmt.Sprintf("the sheet is %.0f × %.0f mm; it lies on %.1f mm of the walls left and right, and %.1f mm front and back", 2*mm(x), 2*mm(y), math.Max(0, across), math.Max(0, along))
	if worse < 0 {
		c.Why += fmt.Sprintf("; a gap of %.1f mm stays open", -worse)
	}
	c.Advice = "say what else holds it: board.held = \"ledge\" or \"fastened\""
	return c
}

// judgePressed asks whether the spring lifts a board that only lies there.
func judgePressed(r *rig.Rig) Check {
	c := Check{ID: "board.pressed", Title: "Spring against the weight of the board", Unit: "N",
		Formula: "preload + rate·warp/2 at the outermost square against weight·h/(x + h), h half the sheet: where it tips about its far edge", Source: "statics; densities common practice, no source", Range: "sheet of even thickness that only lies there"}
	if r.Board.Held == "fastened" {
		return c.Passed("the board is fastened")
	}
	c.Explain = "The spring presses the magnet up against the board. A board that only lies on its walls is held down by nothing but its weight, and near an edge by less than that. When it lifts, the pieces on it slide."
	x, y := r.Board.Sheet()
	if x <= 0 || y <= 0 || r.Board.Thickness <= 0 {
		return c.Passed("the board's size is not given")
	}
	weight := float64(r.Board.Mass) * drag.Gravity
	if weight == 0 {
		weight = lightSheet * float64(4*x*y*r.Board.Thickness) * drag.Gravity
	}
	far := unit.Length(float64(max(r.Board.Files, r.Board.Ranks)-1) / 2 * float64(r.Board.Square))
	half := min(x, y)
	holds := weight * float64(half/(far+half))
	_, most := coupling.Contact(r)
	c = c.AtMost(most, holds, holds)
	c.Why = fmt.Sprintf("the spring presses with up to %.2f N; the board weighs %.1f N and lifts from %.1f N on under its outermost squares", most, weight, holds)
	if r.Board.Mass == 0 {
		c.Why += ", if it is as light as plywood (board.mass)"
	}
	if b, err := budget.Of(r); err == nil {
		c = bear(budget.Allowance{Sigma: float64(r.Lift.Preload) * b[budget.Spring].Sigma()}.And(budget.Allowance{Sigma: holds * b[budget.Gap].Sigma() / float64(r.Board.Thickness)}), c, 0)
	}
	c.Advice = "clamp or screw the board down and say board.held = \"fastened\""
	return c
}

// judgeForce asks whether the lift can raise its magnet and draw it down again.
func (s *study) judgeForce() Check {
	c := Check{ID: "lift.force", Title: "Force of the lift", Unit: "N",
		Formula: "the larger of preload + rate·warp/2 (up) and the piece's strongest axial pull (down)", Source: "Hooke's law; " + besselSource, Range: "what the lift raises weighs little against its spring"}
	if s.err != nil {
		return c.Open("pull.hold")
	}
	_, up := coupling.Contact(s.Rig)
	p, err := s.Pull.At(float64(s.Spread.Near), 0)
	if err != nil {
		return c.Failed(err)
	}
	down := math.Max(0, p.Axial*s.Spread.Strong)
	need := math.Max(up, down)
	c.Explain = "Raising, the lift's motor works against the spring, and holds it for as long as a carry takes. Lowering, it tears the magnet off a piece that is pulled to it. Levers, cams and screws that rub take as much again. A lift that stalls is what fails first in real builds."
	if s.Rig.Lift.Force == 0 {
		return c.Passed(fmt.Sprintf("the rig does not say what the lift's motor can do (lift.force): it needs %.1f N up against the spring and %.1f N down against a piece's pull, and half as much again", up, down))
	}
	c = c.AtLeast(float64(s.Rig.Lift.Force), need, easyForce*need)
	c.Why = fmt.Sprintf("the lift has %v; it needs %.1f N up against the spring and %.1f N down against a piece's pull", s.Rig.Lift.Force, up, down)
	return c
}

// judgeSteel asks whether steel below draws the drive magnet from the board.
func (s *study) judgeSteel() Check {
	c := Check{ID: "lift.steel", Title: "Steel near the drive magnet", Unit: "N",
		Formula: "pull on a plate: that of the magnet's mirror image at twice the distance, against the spring's least force",
		Source:  imageSource, Range: "an upper bound: thick, wide steel; distance from 0.3 mm"}
	if s.err != nil {
		return c.Open("pull.hold")
	}
	c.Explain = "Rods, bearings, screws and motors under the magnet draw it down, and its spring no longer presses it to the board; beside it they draw the carriage. The formula is for a thick wide plate: a screw or a rod pulls less. Brass, aluminium and plastic do not pull at all; most stainless screws hardly do."
	least, _ := coupling.Contact(s.Rig)
	strong := s.Pair.Lower.WithBr(s.Pair.Lower.Br * unit.FluxDensity(math.Sqrt(s.Spread.Strong)))
	if s.Rig.Lift.Steel == 0 {
		return c.Passed("the rig does not say how near steel gets to the raised magnet (lift.steel)" + clearOf(strong, easySteel*least))
	}
	pull, err := magnet.OnIron(strong, s.Rig.Lift.Steel)
	if err != nil {
		return c.Failed(err)
	}
	c = c.AtMost(pull, math.Max(0, least), easySteel*math.Max(0, least))
	c.Why = fmt.Sprintf("steel %v away draws the magnet with up to %.2f N; the spring presses it to the board with %.2f N at least", s.Rig.Lift.Steel, pull, least)
	return c
}

// judgeScrews asks whether steel in or under the board draws pieces.
func (s *study) judgeScrews() Check {
	c := Check{ID: "board.steel", Title: "Steel in or under the board", Unit: "mN",
		Formula: "pull of a base's magnet on a plate, that of its mirror image at twice the distance, against μs·m·g of the lightest piece",
		Source:  imageSource + "; " + coulomb, Range: "an upper bound: thick, wide steel, and all of the pull sideways"}
	if s.err != nil {
		return c.Open("pull.hold")
	}
	m := s.lightest()
	holds := s.stand(m).Static * weightOf(m)
	strong := s.Pair.Upper.WithBr(s.Pair.Upper.Br * unit.FluxDensity(math.Sqrt(s.Spread.Strong)))
	c.Explain = "Screw heads, nails, rods and a steel frame draw a piece that stands near them off its place, and hold one that is carried past. The pull falls fast: a few millimetres more are enough."
	if s.Rig.Board.Steel == 0 {
		return c.Passed("the rig does not say how near steel gets to where pieces stand (board.steel)" + clearOf(strong, easySteel*holds))
	}
	pull, err := magnet.OnIron(strong, s.Rig.Board.Steel+s.Rig.Pieces.Magnet.Recess)
	if err != nil {
		return c.Failed(err)
	}
	c = c.AtMost(1e3*pull, 1e3*holds, easySteel*1e3*holds)
	c.Why = fmt.Sprintf("steel %v from a base draws its magnet with up to %.0f mN; friction holds the %s with %.0f mN", s.Rig.Board.Steel, 1e3*pull, m.name, 1e3*holds)
	return c
}

const imageSource = "method of images; magpylib documentation, Magnetic Holding Force"

// clearOf says how far steel is to be kept, for a pull of at most so many newtons.
func clearOf(c magnet.Cylinder, most float64) string {
	if most <= 0 {
		return ""
	}
	for d := 0.5; d <= 60; d += 0.5 {
		if pull, err := magnet.OnIron(c, unit.MM(d)); err == nil && pull <= most {
			return fmt.Sprintf(": keep thick steel %.1f mm away", d)
		}
	}
	return ": keep steel more than 60 mm away"
}

// judgeCarried asks whether the machine can move the pieces that it plays with.
func judgeCarried(r *rig.Rig) Check {
	c := Check{ID: "play.carried", Title: "Magnets in the machine's pieces", Unit: "sides",
		Formula: "pieces.carried holds play.side", Source: "this program", Range: "any"}
	side, p := r.Play.Side, r.Pieces
	if side == "" || p.Carried == "" {
		return c.Passed("play.side or pieces.carried is not given")
	}
	c.Explain = "The machine moves only pieces with a magnet in their base. Of the others it asks the guest, for every move of its own."
	if p.Carries(side) {
		return c.Passed(fmt.Sprintf("the machine plays %s; pieces with magnets: %s", side, p.Carried))
	}
	c = c.AtLeast(0, 1, 1)
	c.Why = fmt.Sprintf("the machine plays %s; pieces with magnets: %s", side, p.Carried)
	c.Advice = "put magnets into the pieces of both sides (pieces.carried = \"both\")"
	return c
}

// judgeSlots asks whether captured pieces stand clear of each other in the trays.
func (s *study) judgeSlots() Check {
	c := Check{ID: "removal.slots", Title: "Slots of a tray", Unit: "mm",
		Formula: "length of the field/slots against the widest base and the errors of both places", Source: ownGeometry, Range: "slots in one row along the field"}
	c.Explain = "Captured pieces are set down side by side along the field. Nearer than a base and its errors the next one knocks the last one over. When all slots are taken the person is asked to clear them."
	n := s.Rig.Removal.Slots
	if s.Rig.Removal.Mode != "tray" || n == 0 {
		return c.Passed("there are no trays")
	}
	pitch := mm(s.Rig.Board.Square) * float64(s.Rig.Board.Ranks) / float64(n)
	need := mm(s.widest().Across()) + 2*mm(s.placement()) + 2*mm(s.lagSpread())
	c = c.AtLeast(pitch, need, need)
	c.Why = fmt.Sprintf("%s a side, %.1f mm apart; the widest piece needs %.1f mm with the errors of both places", unit.Count(n, "slot"), pitch, need)
	if lost := s.Rig.MayLose(); 2*n < lost && c.Verdict == Pass {
		c.Verdict = Warn
		c.Why += fmt.Sprintf("; of %d pieces that may be taken %d have a slot", lost, 2*n)
		c.Advice = fmt.Sprintf("set removal.slots to %d", (lost+1)/2)
	}
	return c
}

// judgeSheet asks whether the sheet reaches under the outermost slots, or around the trapdoor.
func judgeSheet(s *study) Check {
	c := Check{ID: "removal.sheet", Title: "Sheet under captured pieces", Unit: "mm", Explain: "Captured pieces are dragged to the slots of a tray or to a trapdoor beside the field. The sheet must be there too: beyond its edge they fall.",
		Formula: "half the sheet (field, border, rim) against the outermost slot or the trapdoor, half a base and its errors", Source: ownGeometry, Range: "sheet in the middle of the field"}
	places := s.Rig.TakenTo()
	if len(places) == 0 {
		return c.Passed("captured pieces are taken off by hand")
	}
	x, y := s.Rig.Board.Sheet()
	half, out := mm(x), 1e3*math.Abs(places[0].X) // the first slot is an outermost one
	if along := 1e3 * math.Abs(places[0].Y); mm(y)-along < half-out {
		half, out = mm(y), along
	}
	need := out + mm(s.widest().Across())/2 + mm(s.placement()) + mm(s.lagSpread())
	c = c.AtLeast(half, need, need)
	c.Why = fmt.Sprintf("the sheet ends %.1f mm from the field's centre; captured pieces go to %.1f mm and need it to %.1f mm, with half a base and its errors", half, out, need)
	return c
}
