// SPDX-License-Identifier: Apache-2.0

package twin

import (
	"boardhand/internal/chess"
	"boardhand/internal/twin/physics"
)

// AtFault is one part that truly is wrong, or a person who does wrong.
type AtFault struct {
	Fault  Fault
	Part   string       // see the Part… names
	Axes   string       // of the axes: "x", "y" or "xy"
	Piece  chess.Piece  // of a base magnet: whose; else NoPiece
	Origin chess.Square // of a base magnet: where the piece was set up
	Skew   float64      // of axes_skewed: rad by which the y axis leans
	Scale  [2]float64   // of axes_scaled: the share by which x and y go too far
	// Shown is how often the fault has acted in this session: a piece slipped,
	// a lift that had caught dragged somebody along, a picture did not come; the magnet
	// rose below a standing piece whose magnet is wrong. Of axes that are out of true it is
	// how often the magnet rose: each carry shows it a little.
	Shown int
	// Pieces is, of a lift that stays down, how many different pieces it has left where
	// they stood.
	Pieces int
}

// acts notes that a fault, if it is on, has acted.
func (w *World) acts(f Fault) {
	if !w.faults[f] {
		return
	}
	w.acted[f]++
	for _, b := range w.table.Pieces {
		if f == LiftStaysDown && b.Place == physics.OnBoard && w.table.IsUnder(w.carriage.Magnet(), b) {
			w.left[b] = true
		}
	}
}

// lifted notes what shows when the magnet has risen.
func (w *World) lifted() {
	w.acts(AxesSkewed)
	w.acts(AxesScaled)
	for _, b := range w.table.Pieces {
		if w.ills[b] != "" && b.Place == physics.OnBoard && !b.Fallen && w.table.IsUnder(w.carriage.Magnet(), b) {
			w.acts(w.ills[b])
		}
	}
}

// The parts.
const (
	PartDriveMagnet = "drive_magnet"
	PartBaseMagnet  = "base_magnet" // of Piece
	PartBases       = "bases"       // of all pieces
	PartAxes        = "axes"
	PartLift        = "lift"
	PartBoard       = "board"
	PartCamera      = "camera"
	PartLight       = "light"
	PartGuest       = "guest"
)

var partOf = map[Fault]string{
	WeakMagnet: PartDriveMagnet, Fast: PartAxes, WideFoot: PartBases, Slip: PartBoard,
	BumpCamera: PartCamera, CameraDrop: PartCamera, PictureLost: PartCamera, PictureFrozen: PartCamera,
	LightChange: PartLight, BodyShadow: PartLight, LowLamp: PartLight, Glare: PartLight,
	SloppyGuest: PartGuest, IllegalGuest: PartGuest, HalfMove: PartGuest, SecondMind: PartGuest,
	EarlyGuest: PartGuest, SlotThief: PartGuest,
	MagnetFlipped: PartBaseMagnet, MagnetMissing: PartBaseMagnet, MagnetOffCentre: PartBaseMagnet,
	LiftStaysUp: PartLift, LiftStaysDown: PartLift, AxesSkewed: PartAxes, AxesScaled: PartAxes,
}

// atFault lists the parts at fault, in the order of Faults. A fault of a base
// magnet is listed only when a piece has it.
func (w *World) atFault() (out []AtFault) {
	for _, f := range Faults() {
		if !w.faults[f] {
			continue
		}
		a := AtFault{Fault: f, Part: partOf[f], Origin: chess.NoSquare, Shown: w.acted[f]}
		switch {
		case a.Part == PartBaseMagnet:
			b := w.ill(f)
			if b == nil {
				continue
			}
			a.Piece, a.Origin = b.Piece, b.Origin
		case f == LiftStaysDown:
			a.Pieces = len(w.left)
		case f == AxesScaled:
			a.Axes = w.carriage.Misscaled()
			_, a.Scale = w.carriage.Crooked()
		case a.Part == PartAxes:
			a.Axes = "xy"
			a.Skew, _ = w.carriage.Crooked()
		}
		out = append(out, a)
	}
	return out
}

// ill is the piece with a fault of its magnet.
func (w *World) ill(f Fault) *physics.Piece {
	for _, b := range w.table.Pieces {
		if w.ills[b] == f {
			return b
		}
	}
	return nil
}
