package table

import (
	"time"

	"boardhand/internal/chess"
)

// RequestKind is something that a person at the table may ask of the machine
// or tell it, at a page or at the terminal.
type RequestKind string

// The kinds of request.
const (
	RequestBack     RequestKind = "take_back" // Plies: take moves back
	RequestNew      RequestKind = "new_game"  // Side, Time: set the pieces up and begin a new game, now
	RequestResign   RequestKind = "resign"    // the guest resigns
	RequestDraw     RequestKind = "draw"      // the guest offers a draw
	RequestPlayed   RequestKind = "played"    // Move was played; zero: nothing was played
	RequestPosition RequestKind = "position"  // FEN is agreed to be what stands on the board
	RequestRight    RequestKind = "right"     // it is right as it stands: what was asked for is done
	RequestAfresh   RequestKind = "afresh"    // look at the board afresh: camera, light and position
	RequestResume   RequestKind = "resume"    // go on after a stop or a failure
)

// Request is one of them. Only the fields named at its kind are looked at.
type Request struct {
	Kind  RequestKind
	Plies int
	Move  chess.Move
	FEN   string
	Side  string        // RequestNew: the machine's, "white" or "black"; "" keeps it
	Time  time.Duration // RequestNew: thinking time; 0 keeps it
}
