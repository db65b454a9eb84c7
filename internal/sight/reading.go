// SPDX-License-Identifier: Apache-2.0

// Package sight reads the board from pictures by analysis through synthesis:
// it predicts what each legal move would change in the picture, from the
// pieces' outlines in space, and scores what it sees.
package sight

import (
	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/sight/hypothesis"
)

// State is what a picture was understood to show, as printed by `watch`.
type State = hypothesis.State

// The states.
const (
	Same    = hypothesis.Same    // nothing happened, or a piece was set straight
	Moved   = hypothesis.Moved   // a finished legal move
	Hand    = State("hand")      // something over the board
	Several = hypothesis.Several // several finished moves, of which no picture showed the first alone
	Partial = hypothesis.Partial // on the way to a legal move
	Illegal = hypothesis.Illegal // differs, and no legal move explains it
	Unsure  = State("unsure")    // several explanations; see Candidates
)

// Candidate is one explanation of a picture. A zero Move means "nothing
// happened".
type Candidate struct {
	Move   chess.Move
	Belief float64 // posterior probability, 0–1
}

// Ply is one of several moves that one picture shows.
type Ply struct {
	Move   chess.Move
	Belief float64 // probability that it was played, and at this place: the order may be hard to tell
}

// Offset is where a piece stands in its square.
type Offset struct {
	Square chess.Square
	Delta  frame.Spot[frame.Board] // from the square's centre, metres
	Sigma  float64                 // standard deviation of each coordinate, metres
}

// Reading is what one picture says, given the position before it.
type Reading struct {
	State      State
	Move       chess.Move     // for Moved
	Plies      []Ply          // for Several, the first one first
	Belief     float64        // probability that State (and Move) is right
	Squares    []chess.Square // those that differ from the position
	Candidates []Candidate    // for Unsure and Moved: each move once, best first, at most five; none where hardly any is believed
	Offsets    []Offset       // measured pieces, only when the picture is settled; squares after Move
}

// isFinished says whether the reading is of a finished position.
func (r *Reading) isFinished() bool {
	return r.State == Same || r.State == Moved || r.State == Several
}

// doubt makes a reading one of no move.
func (r *Reading) doubt(s State, belief float64) {
	r.State, r.Move, r.Plies, r.Belief = s, 0, nil, belief
}

// Stray is a piece that stands where the rules cannot have put it: slipped on
// the way, on a line, on a wrong square. Seek finds it.
type Stray struct {
	Side  chess.Color
	At    frame.Spot[frame.Board] // centre of the base
	Sigma float64                 // standard deviation of each coordinate, metres
}
