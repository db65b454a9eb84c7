// SPDX-License-Identifier: Apache-2.0

package twin

import (
	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/twin/lens"
)

// Visitor moves pieces on the twin's table for somebody at a screen: through a
// hand, as everybody else, so that the camera sees it happen. What is asked for
// while the hand is at work is done afterwards, in order.
type Visitor struct{ w *World }

// Visitor gives the handle for a person at a screen.
func (w *World) Visitor() *Visitor { return &Visitor{w} }

// MovePiece takes the piece on from and puts it on to, a piece standing there
// first taken off; to = NoSquare takes it off the board. It is an error when no
// piece will stand on from once everything asked for before is done.
func (v *Visitor) MovePiece(from, to chess.Square) error {
	v.w.mu.Lock()
	defer v.w.mu.Unlock()
	return v.w.person.Move(from, to)
}

// Offer tells the visitor in which slot of the tray to stand a piece of the
// machine's that they take; nil: they keep it.
func (v *Visitor) Offer(slot *frame.Spot[frame.Board]) {
	v.w.mu.Lock()
	defer v.w.mu.Unlock()
	v.w.person.Offer(slot)
}

// PutPiece stands a piece of that kind, from beside the board or from the box, on
// a square; a piece standing there is taken off first.
func (v *Visitor) PutPiece(piece chess.Piece, on chess.Square) error {
	v.w.mu.Lock()
	defer v.w.mu.Unlock()
	return v.w.person.Put(piece, on)
}

// Stand stands the piece on a square in a slot of the tray.
func (v *Visitor) Stand(from chess.Square, slot frame.Spot[frame.Board]) error {
	v.w.mu.Lock()
	defer v.w.mu.Unlock()
	return v.w.person.Stand(from, slot)
}

// Arrange sets the pieces as a position has them.
func (v *Visitor) Arrange(fen string) error {
	v.w.mu.Lock()
	defer v.w.mu.Unlock()
	return v.w.person.Arrange(fen)
}

// Busy says whether the hand has still something to do over the table.
func (v *Visitor) Busy() bool {
	v.w.mu.Lock()
	defer v.w.mu.Unlock()
	return v.w.person.IsBusy()
}

// The printed checkerboard that a visitor holds before the camera: 10 × 7 squares of 25 mm.
const sheetAcross, sheetDown, sheetSquare, sheetBorder = 10, 7, 0.025, 0.015

// HoldSheet holds a printed checkerboard before the camera, its middle at a place in the camera
// frame, metres, tilted by a rotation vector, radians, from square to the lens.
func (v *Visitor) HoldSheet(at frame.Point[frame.Camera], tilt [3]float64) {
	v.w.mu.Lock()
	defer v.w.mu.Unlock()
	v.w.sheet = &lens.Sheet{Across: sheetAcross, Down: sheetDown, Square: sheetSquare, Border: sheetBorder,
		Pose: frame.Pose[frame.Camera, lens.Paper]{R: frame.FromVector(tilt), T: at}}
}

// DropSheet takes it away again.
func (v *Visitor) DropSheet() {
	v.w.mu.Lock()
	defer v.w.mu.Unlock()
	v.w.sheet = nil
}

// Finish lets time pass until the visitor's hand is gone.
func (v *Visitor) Finish() {
	v.w.mu.Lock()
	defer v.w.mu.Unlock()
	v.w.person.Finish()
}
