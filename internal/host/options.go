// SPDX-License-Identifier: Apache-2.0

package host

import (
	"boardhand/internal/carry/drawing"
	"boardhand/internal/carry/plan"
	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/optics"
	"boardhand/internal/rig"
	"boardhand/internal/table"
	"boardhand/internal/table/journal"
	"boardhand/internal/web"
)

// Seat is where the guest is.
type Seat int

// The seats.
const (
	Simulated  Seat = iota // on the twin, playing by themselves
	AtThePage              // on the twin, their hand moved by the person at the page
	AtTheBoard             // a person at a real board, who answers questions at the page
)

// Options are what a host needs to know, and whom it asks.
type Options struct {
	Rig     *rig.Rig
	Seat    Seat        // where the guest is
	IsLast  bool        // no other game is begun after this one
	Pace    float64     // seconds of the world in one real second; 0: nobody watches in real time
	Guest   table.Guest // the simulated one, where nobody visits
	Fingers Fingers     // the visitor's
	// Linger lets time pass until the visitor's hand has gone, while a question
	// waits and no picture is taken; nil: time passes by itself.
	Linger func()
	// Offer tells the hand in which slot a piece that is taken next may be put;
	// nil: in none.
	Offer   func(slot *frame.Spot[frame.Board])
	Planner Planner
	// Strengths are those that can be chosen for the machine.
	Strengths []web.Rung
	View      func() (optics.View, bool)         // how the camera sees the board, once that is known
	Tell      func(s journal.State, text string) // a line for whoever reads the terminal
}

// Fingers do what a visitor wants done on the table. An act returns when the
// hand has begun; the hand is busy until it has gone.
type Fingers interface {
	// MovePiece carries what stands on a square to another, or off the board.
	MovePiece(from, to chess.Square) error
	// PutPiece stands a piece from beside the board on a square.
	PutPiece(piece chess.Piece, on chess.Square) error
	// Arrange sets all pieces as in a FEN.
	Arrange(fen string) error
	// Busy says whether the hand is over the board.
	Busy() bool
}

// Planner tells of the plans it makes; carry.Planner is the one there is.
type Planner interface {
	// Limits are those the plans keep.
	Limits() plan.Limits
	// Clearances are the narrowest places of each step, plan made for the scene.
	Clearances(plan.Scene, plan.Plan) [][]drawing.Clearance
}
