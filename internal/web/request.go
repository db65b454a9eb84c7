// SPDX-License-Identifier: Apache-2.0

package web

import (
	"context"
	"fmt"
)

// Request is what somebody at a page asks of the machine, or tells it. Only
// the fields named at its kind are looked at, and no other may be given.
type Request struct {
	For   string  `json:"for"`
	Plies int     `json:"plies,omitempty"`  // take_back: how many
	Move  string  `json:"move,omitempty"`   // played: UCI form; absent: nothing was played
	FEN   string  `json:"fen,omitempty"`    // position: what stands on the board; new_game: where it begins
	Side  string  `json:"side,omitempty"`   // new_game: the machine's, "white" or "black"; absent: as it was
	Time  float64 `json:"time_s,omitempty"` // new_game: thinking time; absent: as it was

	Odds     string `json:"odds,omitempty"`     // new_game: the piece without which the machine plays
	Strength string `json:"strength,omitempty"` // strength: a rung of the ladder
}

// The kinds of request.
const (
	ForBack     = "take_back"
	ForNew      = "new_game"
	ForResign   = "resign"
	ForDraw     = "draw"
	ForPlayed   = "played"
	ForPosition = "position"
	ForRight    = "right"
	ForAfresh   = "afresh"
	ForResume   = "resume"
	ForHint     = "hint"     // which piece to move; asked again, where to
	ForStrength = "strength" // the machine plays so strongly from its next move on
	ForArrange  = "arrange"  // the visitor's hand sets the pieces as they should be
)

// needs are the fields that a kind of request may have.
var needs = map[string]Request{
	ForBack: {Plies: 1}, ForNew: {Side: "s", Time: 1, FEN: "f", Odds: "o"}, ForResign: {}, ForDraw: {}, ForPlayed: {Move: "m"},
	ForPosition: {FEN: "f"}, ForRight: {}, ForAfresh: {}, ForResume: {}, ForArrange: {}, ForHint: {}, ForStrength: {Strength: "s"},
}

// Check says what is wrong with the request, or nil.
func (r Request) Check() error {
	may, known := needs[r.For]
	switch {
	case !known:
		return fmt.Errorf("%q is no request; ask for take_back, new_game, resign, draw, played, position, right, afresh, resume, strength, hint or arrange", r.For)
	case r.Plies != 0 && may.Plies == 0, r.Move != "" && may.Move == "", r.FEN != "" && may.FEN == "",
		r.Side != "" && may.Side == "", r.Time != 0 && may.Time == 0, r.Strength != "" && may.Strength == "", r.Odds != "" && may.Odds == "":
		return fmt.Errorf("a request for %q has a field too many; leave out what it does not need", r.For)
	case r.For == ForBack && r.Plies < 1:
		return fmt.Errorf("plies must be 1 or more; got %d", r.Plies)
	case r.For == ForPosition && r.FEN == "":
		return fmt.Errorf("a request for %q needs the position: give fen", r.For)
	case r.For == ForStrength && r.Strength == "":
		return fmt.Errorf("a request for %q needs the name of one: give strength", r.For)
	case r.Side != "" && r.Side != "white" && r.Side != "black":
		return fmt.Errorf(`side must be "white" or "black"; got %q`, r.Side)
	case r.Time != 0 && !(r.Time >= leastTime && r.Time <= mostTime):
		return fmt.Errorf("time_s must be %g to %d; got %g", leastTime, mostTime, r.Time)
	}
	return nil
}

// Requester does what the pages ask for; an error's text is shown as it is.
type Requester interface {
	Request(ctx context.Context, r Request) error
}
