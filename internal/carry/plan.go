// Package carry turns a game move into what the carriage does: travel, grip,
// carry, release, and what the guest is asked to do.
package carry

import (
	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/unit"
)

// Do is one kind of step.
type Do string

// The kinds of step, as printed by `route`.
const (
	Travel  Do = "travel"  // magnet lowered, nothing follows
	Grip    Do = "grip"    // raise the magnet under a man
	Carry   Do = "carry"   // drag the man along Path
	Release Do = "release" // lower the magnet
	// Ask: a person must do something; Text says what. After it Piece stands on
	// To: it came from From, or from beside the board when From is NoSquare (a
	// man already on To goes off). To NoSquare: it goes off. From = To: it was
	// set straight in its square.
	Ask Do = "ask"
)

// Step is one thing done. Paths are polylines on the board plane, metres.
type Step struct {
	Do        Do
	Path      []frame.Spot[frame.Board] // the carriage's (magnet axis)
	PiecePath []frame.Spot[frame.Board] // carry: the man's own
	Piece     chess.Piece               // grip, carry, release, ask: which man
	From, To  chess.Square              // of the man; NoSquare when beside the board
	Text      string                    // ask: one sentence for the guest; carry: "steps aside", "returns", or empty
	Speed     unit.Speed                // travel, carry: limit along the path; see Stroke
	Accel     unit.Acceleration         // travel, carry: limit along the path
	Jerk      unit.Jerk                 // travel, carry: limit along the path
	Time      unit.Duration             // predicted

	Acts []Act   // ask: the single things, when Text asks for several at once; then the step's own man and squares say nothing
	ride []Stamp // travel, carry: see Ride
}

// Ride is how the carriage drives the path of a travel or a carry: corners
// rounded, time after time. Empty for a step that was not planned here.
func (s Step) Ride() []Stamp { return s.ride }

// Plan is a whole move.
type Plan struct {
	Steps []Step
	Time  unit.Duration // predicted, without waiting for people

	Asides int // own men that step aside and return
	// Doubt is empty, or what the independent checker held against the first
	// plan; the steps then only ask a person.
	Doubt string
}

// Asks counts the steps that need a person.
func (p Plan) Asks() int {
	n := 0
	for _, s := range p.Steps {
		if s.Do == Ask {
			n++
		}
	}
	return n
}

// Man is one man as it stands now.
type Man struct {
	Piece  chess.Piece
	Square chess.Square            // NoSquare when beside the board
	At     frame.Spot[frame.Board] // measured centre of the foot
	Sigma  float64                 // standard deviation of At per coordinate, metres
	Magnet bool                    // its foot holds a magnet
	Foot   float64                 // foot diameter, metres
}

// Scene is everything that stands on and beside the board.
type Scene struct {
	Men      []Man
	Carriage frame.Spot[frame.Board] // where the magnet's axis is now
}
