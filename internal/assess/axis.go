// SPDX-License-Identifier: Apache-2.0

package assess

import (
	"fmt"
	"math"

	"boardhand/internal/axes"
	"boardhand/internal/budget"
	"boardhand/internal/coupling"
	"boardhand/internal/drag"
	"boardhand/internal/game"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// towed is what a carried piece pulls back with at most, newtons.
func (s *study) towed() float64 {
	if s.err != nil {
		return 0
	}
	most, err := s.Towed(s.Braking())
	if err != nil {
		return 0
	}
	return most
}

// judgeStall is the stall margin of one axis over its speeds.
func (s *study) judgeStall(name string) Check {
	c := Check{ID: "drive." + name, Title: "Force of the " + name + " drive at speed", Unit: "N",
		Formula: "2π·η·i·T(ω)/travel against friction + rubbing + piece + m·a, least over 0 to the axis' speed",
		Source:  "motor line: MIT, Understanding D.C. Motor Characteristics; stepper: daycounter.com, Farnell calculators; work a turn; rubbing as Coulomb friction",
		Range:   "motor line good to 10 %"}
	a := axes.Named(s.Rig, name)
	t, err := axes.Train(s.Rig, a)
	if err != nil {
		return c.Failed(fmt.Errorf("axis.%s: %w", name, err))
	}
	l := axes.Load(a, s.Rubbing(), s.towed())
	st, err := t.StallMargin(l, a.Speed)
	if err != nil {
		return c.Failed(fmt.Errorf("axis.%s: %w", name, err))
	}
	c = c.AtLeast(float64(st.Has), float64(st.Needs), easyForce*float64(st.Needs))
	c.Why = fmt.Sprintf("at %.0f mm/s the motor has %.1f N at the %s; friction %.1f N, magnet rubbing %.1f N, piece %.1f N and acceleration %.1f N need %.1f N",
		float64(st.At)*1e3, float64(st.Has), a.Drive, float64(a.Friction), s.Rubbing(), s.towed(), float64(l.Mass)*float64(l.Accel), float64(st.Needs))
	c.Explain = fmt.Sprintf("A motor's torque falls with speed. At %.0f mm/s it turns with %.0f rpm; one turn of the %s is %.2f mm. The margin must hold over all speeds up to the axis' own; with this load the axis could run up to %.0f mm/s. Half as much again is a sensible reserve.",
		float64(a.Speed)*1e3, t.MotorTurns(a.Speed).RPM(), a.Drive, mm(t.Travel), float64(st.Top)*1e3)
	return c
}

// judgeResolution compares the travel of one count with the placement error.
func judgeResolution(r *rig.Rig) Check {
	c := Check{ID: "drive.resolution", Title: "Travel of one count", Unit: "mm",
		Formula: "travel a turn/(counts·gearing)", Source: "gear geometry, ISO 53/54; Grbl, doc/markdown/settings.md, $100", Range: "exact"}
	worst, who := 0.0, "x"
	for _, name := range []string{"x", "y"} {
		t, err := axes.Train(r, axes.Named(r, name))
		if err != nil {
			return c.Failed(fmt.Errorf("axis.%s: %w", name, err))
		}
		r, err := t.Resolution()
		if err != nil {
			return c.Failed(fmt.Errorf("axis.%s: %w", name, err))
		}
		if mm(r) > worst {
			worst, who = mm(r), name
		}
	}
	c = c.AtMost(worst, finest*1e3, nearLimit*finest*1e3)
	c.Why = fmt.Sprintf("one count of the %s axis is %.3f mm", who, worst)
	c.Explain = "The controller cannot place the carriage finer than one count. Half of the carriage's placement error is the most that may go to it."
	return c
}

// judgeBacklash compares the play that cannot be taken up with the placement.
func judgeBacklash(r *rig.Rig) Check {
	c := Check{ID: "drive.backlash", Title: "Backlash", Unit: "mm",
		Formula: "a quarter of it stays after taking it up; that must stay below the placement error", Source: ownGeometry, Range: "play of one axis"}
	b := math.Max(mm(r.Axis.X.Backlash), mm(r.Axis.Y.Backlash))
	limit := coupling.Placement * 1e3 / leftOver
	c = c.AtMost(b, limit, easyBacklash*limit)
	c.Why = fmt.Sprintf("the axes have up to %.2f mm of play; taken up from one side about %.2f mm stay, %.1f mm are allowed for the carriage", b, leftOver*b, coupling.Placement*1e3)
	c.Explain = "Play between rack and pinion, or belt and pulley, lets the carriage stand anywhere inside it. The machine moves its motors further by half of it in the direction of travel. Wear, dust and a soft mounting leave about a quarter."
	return c
}

// judgeSkew asks how far a beam that is driven on one side turns.
func judgeSkew(r *rig.Rig) Check {
	c := Check{ID: "drive.skew", Title: "Skew of a beam driven on one side", Unit: "mm",
		Formula: "play of the guides/their length × travel of the x axis, against the placement error", Source: ownGeometry, Range: "stiff beam, driven at its end"}
	c.Explain = "A beam that is pushed at one end turns in its guides until their play is used up, one way when it goes forth and the other when it comes back. The far end is off by the play times the lever. Long guides, less play, or a second rack or belt on the other side (axis.y.rows = 2) help; short guides jam besides, like a wide drawer."
	y := r.Axis.Y
	switch {
	case y.Rows > 1:
		return c.Passed(fmt.Sprintf("the beam is driven by %d rows", y.Rows))
	case y.Guide == 0:
		return c.Passed(fmt.Sprintf("the rig does not give the guides of the beam (axis.y.guide, axis.y.clearance): with 0.1 mm of play they must be %.0f mm long", 0.1*mm(r.Axis.X.Travel)/(mm(unit.Length(coupling.Placement)))))
	}
	limit := mm(unit.Length(coupling.Placement))
	c = c.AtMost(mm(axes.Skew(r)), limit, easySkew*limit)
	c.Why = fmt.Sprintf("guides of %v with %v of play let the far end of the beam be off by %.2f mm", y.Guide, y.Clearance, c.Value)
	c.Advice = "drive the beam on both sides (axis.y.rows = 2), or guide it over a greater length"
	return c
}

// spelt are the numbers of squares on the way across a board.
var spelt = [game.MostFiles]string{"no", "one", "two", "three", "four", "five", "six", "seven"}

// across is how many squares a piece is carried at most along each axis.
func across(r *rig.Rig) string {
	x, y := r.Board.Files-1, r.Board.Ranks-1
	if x == y {
		return fmt.Sprint(x)
	}
	return fmt.Sprintf("%d and %d", x, y)
}

// judgeTime computes a carry from corner to corner by both profiles.
func judgeTime(r *rig.Rig) Check {
	c := Check{ID: "drive.time", Title: "Longest carry", Unit: "s",
		Formula: fmt.Sprintf("S-curve and trapezoid over %s squares along each axis, one after the other, and two lift strokes", across(r)),
		Source:  "JPE, Third order point to point motion profile; Biagiotti and Melchiorri (2008), ch. 3 (from memory)", Range: "exact"}
	board := r.Board
	ways := [2]unit.Length{unit.Length(board.Files-1) * board.Square, unit.Length(board.Ranks-1) * board.Square}
	total, plain := 0.0, 0.0
	for i, a := range []rig.Axis{r.Axis.X, r.Axis.Y} {
		soft, hard, err := axes.Times(a, ways[i])
		if err != nil {
			return c.Failed(err)
		}
		total, plain = total+soft, plain+hard
	}
	lift := 0.0
	if r.Lift.Speed > 0 {
		lift = 2 * float64(r.Lift.Drop) / float64(r.Lift.Speed)
	}
	c = c.AtMost(total+lift, mostSeconds, easySeconds*mostSeconds)
	c.Why = fmt.Sprintf("%s squares along and %s up take %.1f s with soft starts (%.1f s with hard ones), raising and lowering %.1f s", spelt[board.Files-1], spelt[board.Ranks-1], total, plain, lift)
	c.Explain = "The longest move of the game, a rook or queen across the whole board, as the guest waits for it. Speed counts more than acceleration once the way is longer than v²/a."
	return c
}

// weightOf a piece, newtons.
func weightOf(m piece) float64 { return float64(m.Mass) * drag.Gravity }

// judgeContact asks whether the sprung magnet follows the warp.
func (s *study) judgeContact() Check {
	c := Check{ID: "lift.contact", Title: "Magnet pressed to the warped board", Unit: "N",
		Formula: "preload − rate·warp/2, least; preload + rate·warp/2 + axial pull, most", Source: "Hooke's law; " + ownGeometry, Range: "springs within their travel"}
	least, _ := coupling.Contact(s.Rig)
	warp, l := s.Rig.Board.Warp, s.Rig.Lift
	if l.Spring <= 0 && warp > 0 {
		c = c.AtLeast(0, leastPress, leastPress)
		c.Why = fmt.Sprintf("there is no spring: over a warp of %v the magnet presses against the board here and hangs %v below it there; the lift stalls or breaks itself", warp, warp/2)
		c.Explain = "A thin sheet is never flat. A rigid lift is set for one height: where the sheet bows down the magnet is driven into it and the axes jam, where it bows up the gap opens and the piece is lost. A soft spring under the magnet follows the sheet at nearly the same force."
		return c
	}
	c = c.AtLeast(least, leastPress, leastPress)
	c.Why = fmt.Sprintf("over a warp of %v the spring presses with %.2f to %.2f N, up to %.2f N with a piece above", warp, least, 2*float64(l.Preload)-least, s.Pressed())
	c = bear(budget.Allowance{Sigma: float64(l.Preload) * builds{s}.errors()[budget.Spring].Sigma()}, c, 0)
	if way := float64(l.Preload) / float64(l.Spring); l.Spring > 0 && way > mostTravel && c.Verdict == Pass {
		c.Verdict = Warn
		c.Why += fmt.Sprintf("; pressed to %v a spring of %v is %.0f mm shorter, more than a small one bears", l.Preload, l.Spring, way*1e3)
	}
	c.Explain = fmt.Sprintf("The spring (%v) is set to %v under a flat board. Where the sheet bows away by half the warp it loses rate × warp/2 = %.2f N; below zero the magnet no longer follows and the gap opens. Where it bows in it gains as much, and the axes feel the rubbing: %.2f × %.2f N.",
		l.Spring, l.Preload, float64(l.Spring)*float64(warp)/2, l.Friction, s.Pressed())
	return c
}
