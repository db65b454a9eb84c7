// SPDX-License-Identifier: Apache-2.0

package journal

import (
	"errors"
	"fmt"
	"slices"
	"time"

	"boardhand/internal/chess"
	"boardhand/internal/search"
)

// RequestKind is something that a person at the table may ask of the machine
// or tell it, at a page or at the terminal.
type RequestKind string

// The kinds of request.
const (
	RequestBack     RequestKind = "take_back" // Plies: take moves back
	RequestNew      RequestKind = "new_game"  // Side, Time, FEN or Odds: set the pieces up and begin a new game, now
	RequestResign   RequestKind = "resign"    // the guest resigns
	RequestDraw     RequestKind = "draw"      // the guest offers a draw
	RequestPlayed   RequestKind = "played"    // Move was played; zero: nothing was played
	RequestPosition RequestKind = "position"  // FEN is agreed to be what stands on the board
	RequestRight    RequestKind = "right"     // it is right as it stands: what was asked for is done
	RequestAfresh   RequestKind = "afresh"    // look at the board afresh: camera, light and position
	RequestResume   RequestKind = "resume"    // go on after a stop or a failure
	RequestHint     RequestKind = "hint"      // tell the guest which piece to move; asked again, where to
	RequestStrength RequestKind = "strength"  // Strength: play so strongly from the next move on
)

// Request is one of them. Only the fields named at its kind are looked at.
type Request struct {
	Kind  RequestKind
	Plies int
	Move  chess.Move
	FEN   string
	Side  string        // RequestNew: the machine's, "white" or "black"; "" keeps it
	Time  time.Duration // RequestNew: thinking time; 0 keeps it

	Strength string // a rung of the player's ladder
	Odds     string // RequestNew: the piece without which the machine plays, like "queen"
}

// Check says what is wrong with the fields of a request, or nil.
func (r Request) Check() error {
	switch r.Kind {
	case RequestBack:
		if r.Plies < 1 || r.Plies > mostPlies {
			return fmt.Errorf("1 or %d plies can be taken back at once; got %d", mostPlies, r.Plies)
		}
	case RequestNew:
		if r.Side != "" && r.Side != "white" && r.Side != "black" {
			return fmt.Errorf(`the machine's side is "white" or "black"; got %q`, r.Side)
		}
		if r.Time < 0 || r.Time > mostThinking {
			return fmt.Errorf("the thinking time must be at most %v; got %v", mostThinking, r.Time)
		}
		return r.checkStart()
	case RequestPosition:
		_, err := chess.ParseFEN(r.FEN)
		return err
	case RequestStrength:
		_, err := search.StrengthNamed(r.Strength)
		return err
	case RequestHint, RequestResign, RequestDraw, RequestPlayed, RequestRight, RequestAfresh, RequestResume:
	default:
		return fmt.Errorf("%q is nothing that can be asked for here", r.Kind)
	}
	return nil
}

// checkStart says what is wrong with where a new game is to begin.
func (r Request) checkStart() error {
	switch {
	case r.Odds != "" && r.FEN != "":
		return errors.New("a game begins from a position or with odds, not both")
	case r.Odds != "":
		_, err := chess.Odds(chess.Black, r.Odds)
		return err
	case r.FEN != "":
		return CheckStart(r.FEN)
	}
	return nil
}

// CheckStart says why no game can begin from a position, given as FEN.
func CheckStart(fen string) error {
	pos, err := chess.ParseFEN(fen)
	if err != nil {
		return err
	}
	if o := chess.NewGame(pos).Outcome(); o.Over() {
		return fmt.Errorf("no game can begin from %s: it is over there (%s)", fen, o)
	}
	return nil
}

// Start is the first position of the new game asked for, as FEN, when the machine plays
// a side unless another is asked for; "": the usual one.
func (r Request) Start(machine chess.Color) string {
	if r.Odds == "" {
		return r.FEN
	}
	if r.Side != "" {
		machine = chess.ColorNamed(r.Side)
	}
	pos, err := chess.Odds(machine, r.Odds)
	if err != nil {
		return ""
	}
	return pos.FEN()
}

// Refusals say why a request cannot be granted in this state.
var Refusals = map[RequestKind]string{
	RequestBack:     "moves are taken back when it is your turn or the game is over",
	RequestNew:      "a new game can begin when the machine runs and the pieces are not being set up already",
	RequestResign:   "a game can be resigned while it is played",
	RequestDraw:     "a draw can be offered while a game is played",
	RequestPlayed:   "a move can be named when it is your turn",
	RequestPosition: "a position can be agreed when nothing is being carried",
	RequestRight:    "nothing is being asked of you",
	RequestAfresh:   "the camera is not being waited for",
	RequestHint:     "a hint can be given while it is your move",
	RequestStrength: "how strongly I play can be chosen while the machine runs and I choose my moves myself",
}

// later are the requests that wait for the guest's turn, or the game's end.
var later = map[RequestKind][]State{RequestBack: {Guesting, Reading, Over}}

// IsDue says whether a request can be granted in a state.
func (r Request) IsDue(s State) bool {
	when, waits := later[r.Kind]
	return !waits || slices.Contains(when, s)
}
