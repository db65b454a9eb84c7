// SPDX-License-Identifier: Apache-2.0

package diagnosis

import "math"

// Cause is a fault of one part. It is kept on disk by its name.
type Cause string

// The causes.
const (
	DriveMagnetWeak Cause = "drive_magnet_weak"
	MagnetFlipped   Cause = "magnet_flipped"    // of Piece
	MagnetMissing   Cause = "magnet_missing"    // of Piece
	MagnetOffCentre Cause = "magnet_off_centre" // of Piece
	BaseTooWide     Cause = "base_too_wide"     // of all pieces, or of Piece
	LiftStaysUp     Cause = "lift_stays_up"
	LiftStaysDown   Cause = "lift_stays_down"
	AxisOverdriven  Cause = "axis_overdriven" // Axis cannot follow: too fast, or blocked
	AxesOutOfSquare Cause = "axes_out_of_square"
	AxesScaleWrong  Cause = "axes_scale_wrong" // of Axis
	PlaceShifted    Cause = "place_shifted"    // the machine's zero or turn on the board is off
	NothingFollows  Cause = "nothing_follows"  // DriveMagnetWeak or LiftStaysDown: carries do not tell which
	StickyPlace     Cause = "sticky_place"     // at Place
	StickyBoard     Cause = "sticky_board"     // the friction is high or uneven everywhere
	CameraFrozen    Cause = "camera_frozen"
	CameraDropping  Cause = "camera_dropping"
	ControllerWire  Cause = "controller_wire" // what goes to and fro between computer and motors is spoilt
)

// prior is how many of a hundred hand-built machines have the fault when they
// first play, over a hundred; for a piece's fault, of one given piece. No
// source: common practice of people who build such machines. The findings
// hardly depend on it: three symptoms weigh a thousand times more (TestPriorsHardlyMatter).
var prior = map[Cause]float64{
	DriveMagnetWeak: 0.02, MagnetFlipped: 0.004, MagnetMissing: 0.004, MagnetOffCentre: 0.004,
	BaseTooWide: 0.02, LiftStaysUp: 0.015, LiftStaysDown: 0.015, AxisOverdriven: 0.03,
	AxesOutOfSquare: 0.03, AxesScaleWrong: 0.02, PlaceShifted: 0.03,
	StickyPlace: 0.02, StickyBoard: 0.02, CameraFrozen: 0.005, CameraDropping: 0.02, ControllerWire: 0.02,
}

// builtIn is the share of faults that were there from the first symptom on; the
// others begin at any moment. What is glued wrongly is wrong from the start; a
// lift or a camera gives up while it works.
var builtIn = map[Cause]float64{
	DriveMagnetWeak: 0.8, MagnetFlipped: 0.95, MagnetMissing: 0.8, MagnetOffCentre: 1, BaseTooWide: 0.95,
	LiftStaysUp: 0.4, LiftStaysDown: 0.2, AxisOverdriven: 0.7, AxesOutOfSquare: 1, AxesScaleWrong: 1,
	PlaceShifted: 1, StickyPlace: 0.3, StickyBoard: 0.7, CameraFrozen: 0.2, CameraDropping: 0.4, ControllerWire: 0.5,
}

// logOdds of a probability.
func logOdds(p float64) float64 { return math.Log(p / (1 - p)) }
