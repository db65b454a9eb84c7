// SPDX-License-Identifier: Apache-2.0

package twin

import (
	"math"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/optics"
	"boardhand/internal/twin/physics"
)

// TrueMan is one piece as it truly is.
type TruePiece struct {
	Piece   chess.Piece
	At      frame.Spot[frame.Board] // centre of the base, m
	Square  chess.Square            // NoSquare when not on the field
	OnBoard bool
	Fallen  bool
}

// Truth is the world as it is at one moment: a copy, for counting and tests.
// Code that plays must not use it.
type Truth struct {
	Squares    [64]chess.Piece // by the centre of the base
	Pieces     []TruePiece
	Counters   Counters
	Magnet     frame.Spot[frame.Board]
	Raised     bool
	View       optics.View // of the camera, as it truly is
	Slopes     [2]float64  // of the plane that fits the warped field best, along x and y, in the frame of View
	Time       float64     // world time, s
	Guest      chess.Move  // the guest's last finished legal move
	Early      chess.Move  // that the guest has played on the board before its turn; zero: none
	InHand     chess.Piece // held by a person; NoPiece: none
	HandOut    bool        // a person's hand is over the table
	HandOver   bool        // and its fingertips, as the camera sees them, half a square inside the playing field or more
	Deviations Deviations
	AtFault    []AtFault // of the faults that are on, the part that truly is at fault
}

// Truth copies the state of the world.
func (w *World) Truth() Truth {
	w.mu.Lock()
	defer w.mu.Unlock()
	t := Truth{Counters: w.count, Magnet: w.carriage.Magnet(), Raised: w.carriage.Lift > 0, View: w.studio.View(), Slopes: w.table.Slopes(), Time: w.now, Deviations: w.deviations}
	t.Guest, t.Early, t.AtFault = w.person.Played(), w.person.Early(), w.atFault()
	hand, within := w.person.Hand(), 3.5*float64(w.rig.Board.Square)
	t.HandOut = hand.IsOut
	tip, err := t.View.Leaned(hand.Tip.Spot(), hand.Tip.Z)
	t.HandOver = hand.IsOut && err == nil && math.Abs(tip.X) <= within && math.Abs(tip.Y) <= within
	for _, b := range w.table.Pieces {
		if b.Place == physics.InHand {
			t.InHand = b.Piece
		}
		s := w.table.Square(b)
		t.Pieces = append(t.Pieces, TruePiece{Piece: b.Piece, At: b.At, Square: s, OnBoard: b.Place == physics.OnBoard, Fallen: b.Fallen})
		if s != chess.NoSquare {
			t.Squares[s] = b.Piece
		}
	}
	return t
}
