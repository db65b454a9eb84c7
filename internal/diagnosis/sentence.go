// SPDX-License-Identifier: Apache-2.0

package diagnosis

import (
	"fmt"
	"math"
)

// sentence tells the maker which part to look at and what to check.
func (c *Case) sentence(f Finding, p Piece) string {
	if f.Piece != "" && f.Cause != BaseTooWide {
		return pieceSentence(f, p)
	}
	switch f.Cause {
	case BaseTooWide:
		if wide := c.widthSeen(); f.Piece == "" && wide > 1 {
			return fmt.Sprintf("The pieces' bases look %.1f times as wide as the rig file says: carried pieces will touch those beside the way. Measure the bases and write their true diameter into the rig file; if a lane is too narrow for them then, cut them smaller.", wide)
		}
		who := "Carried pieces"
		if f.Piece != "" {
			who = "The " + p.Name()
		}
		return who + " and the pieces beside the way touch, although by the rig file they should pass: a base is wider than the file says. Measure the bases and write their true diameter into the rig file, or cut them smaller."
	case AxisOverdriven:
		return fmt.Sprintf("Axis %s falls behind its motion again and again: it is driven too fast or something brakes it. Push the carriage along by hand with the power off: it should run evenly; else lower axis.%s.speed and axis.%s.acceleration.", f.Axis, f.Axis, f.Axis)
	case AxesOutOfSquare:
		return fmt.Sprintf("Pieces arrive off centre as if the axes met at %.2f° ± %.2f° instead of 90°: the frame is out of square. Measure both diagonals of the frame: they should be equal.", 90-f.Value/degree, f.Sigma/degree)
	case AxesScaleWrong:
		far := "farther"
		if f.Value < 0 {
			far = "less far"
		}
		return fmt.Sprintf("Axis %s goes %.2f %% ± %.2f %% %s than it counts: its rack, belt or screw is not what the rig file says. Drive it 200 mm and measure; correct module, pitch, lead, teeth or gearing of axis.%s.", f.Axis, 100*math.Abs(f.Value), 100*f.Sigma, far, f.Axis)
	case PlaceShifted:
		return fmt.Sprintf("All pieces arrive off centre the same way, by %.1f mm ± %.1f mm: the machine's zero or its turn on the board is off. Check that the board lies where it did, the homing switches are tight, and axis.x.origin and axis.y.origin are right.", 1e3*f.Value, 1e3*f.Sigma)
	case StickyPlace:
		return fmt.Sprintf("Pieces are left behind near %s, whichever they are, and hardly anywhere else: something sticks there. Clean the board near %s and feel for a seam or an edge.", c.near(f.Place), c.near(f.Place))
	}
	return wholeSentence[f.Cause]
}

// widthSeen is by which factor bases were seen to be wider than told, the last time; 0: never.
func (c *Case) widthSeen() (factor float64) {
	for _, s := range c.symptoms {
		if s.Outcome == WideBases {
			factor = s.Amount
		}
	}
	return factor
}

const degree = math.Pi / 180

// wholeSentence is for causes that concern the whole machine.
var wholeSentence = map[Cause]string{
	DriveMagnetWeak: "Pieces of all kinds do not follow the magnet: the drive magnet is weak, or too far below the board. Check that it sits on the lift the right way round and touches the board's underside when raised; a magnet that was overheated while it was glued must be replaced. If it does not rise at all, it is the lift.",
	LiftStaysDown:   "From some moment on no piece follows the magnet: the lift does not rise, though it does not say so. Look below the board while it should be raised: it should touch the underside; check its motor's plug, its guide and its spring. If it does rise, the drive magnet has come off or lost its strength.",
	NothingFollows:  "Pieces of all kinds do not follow the magnet: the lift does not rise, or the drive magnet is weak or has come off. Look below the board while it should be raised: if the magnet touches the underside, it is the magnet; if it does not, it is the lift: check its motor's plug, its guide and its spring.",
	LiftStaysUp:     "Pieces are moved while the carriage only travels: the lift stays up when it should sink. Watch it from the side while it lowers: check its guide, its cam and its spring, and that lift.drop is the way it truly goes.",
	StickyBoard:     "Pieces are left behind on their way in many places, whichever they are: the board's surface is sticky or rough. Clean it and the bases, and measure the friction anew: tilt the board until a piece slides.",
	CameraFrozen:    "The camera delivers the same picture again and again, although pieces were moved: it hangs. Unplug it and plug it in again; if that helps only for a while, use another cable, port or supply.",
	ControllerWire:  "What goes to and fro between the computer and the motors' controller gets lost, comes late or changes again and again: it is the wire, not the axes. Use a shorter, shielded cable, away from the motors' leads, plug it in at the computer itself, and let nothing else use much of the computer.",
	CameraDropping:  "Many pictures of the camera do not arrive: check its cable and its port, and nothing else that needs much of the same line should run.",
}

// pieceSentence is for what concerns one piece.
func pieceSentence(f Finding, p Piece) string {
	name := p.Name()
	switch f.Cause {
	case MagnetMissing:
		return "The " + name + " never follows the magnet and stays exactly where it stands, and other pieces follow: its magnet is missing, or glued in upside down. Hold a magnet under it: it should pull."
	case MagnetFlipped:
		return "The " + name + " is pushed off or over when the magnet rises under it, and other pieces follow: its magnet is glued in upside down. Hold the drive magnet under it: it should pull, and it will push. Turn the magnet round."
	}
	return fmt.Sprintf("The %s arrives %.1f mm ± %.1f mm off centre again and again, and other pieces do not: its magnet does not sit in the middle of its base. Look at the base from below and centre the magnet.", name, 1e3*f.Value, 1e3*f.Sigma)
}

// near names the square at a place, or the side of the board beyond it.
func (c *Case) near(p Spot) string {
	side := c.physics.field / 8
	at := func(v float64) int { return int(math.Max(0, math.Min(7, math.Floor(v/side+4)))) }
	return string(rune('a'+at(p.X))) + string(rune('1'+at(p.Y)))
}
