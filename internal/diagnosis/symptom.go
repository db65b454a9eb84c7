// SPDX-License-Identifier: Apache-2.0

// Package diagnosis infers from what is seen after the machine's acts which
// part of the machine is at fault: a base magnet that is missing or upside
// down, a weak drive magnet, a lift that jams, axes that are overdriven, out of
// square or of the wrong scale, a sticky surface, a camera that drops pictures.
//
// A set of causes predicts how often each symptom is seen; the forces behind
// these predictions are those of packages magnet and drag for the rig at hand.
// Bayes' rule turns symptoms into beliefs (posterior.go). The package has no
// clock and no chance: the same symptoms give the same findings.
package diagnosis

import (
	"strings"

	"boardhand/internal/frame"
)

// Spot is a place on the board, metres.
type Spot = frame.Spot[frame.Board]

// Piece is one piece through a whole game. ID is where the game began for it
// ("g8", or a slot of the tray), so that it never changes.
type Piece struct {
	ID   string `json:"id"`
	Kind string `json:"kind"` // "king" … "pawn"
	Side string `json:"side"` // "white" or "black"
}

// Name is how people call it: "black knight of g8".
func (p Piece) Name() string {
	name := strings.TrimSpace(p.Side + " " + p.Kind)
	if id, _, _ := strings.Cut(p.ID, " "); id != "" {
		name += " of " + id
	}
	return name
}

// Act is what the machine did.
type Act string

// The acts.
const (
	Carry  Act = "carry"  // a piece was to come along
	Travel Act = "travel" // the magnet was to be lowered, and nothing to move
	Lift   Act = "lift"   // the magnet was to rise (Raised) or to sink
	Look   Act = "look"   // a picture was to be taken
)

// Outcome is what was seen of an act.
type Outcome string

// The outcomes.
const (
	Done    Outcome = "done"    // travel, lift, look; a carry whose piece was carried on before anybody looked
	Arrived Outcome = "arrived" // carry: Piece stands near To, at Found
	Stayed  Outcome = "stayed"  // carry: Piece stands near From still, at Found
	Short   Outcome = "short"   // carry: Piece was left behind or pushed aside, at Found
	Toppled Outcome = "toppled" // carry: Piece lies on the board
	Unseen  Outcome = "unseen"  // carry: Piece is nowhere to be seen

	Pushed Outcome = "pushed" // carry, travel: Piece was not carried and moved From, To

	Lagged     Outcome = "lagged"      // carry, travel: Axis was Amount metres behind on the way
	Stalled    Outcome = "stalled"     // carry, travel: Axis stopped short
	BrokenOff  Outcome = "broken_off"  // carry, travel, lift: the wire between computer and motors spoilt it, as its driver saw
	LiftFailed Outcome = "lift_failed" // lift: it reported an error; Raised: it was to rise

	PictureLost   Outcome = "picture_lost"   // look: none came
	PictureFrozen Outcome = "picture_frozen" // look: the same picture again although something must have moved
	PictureSilent Outcome = "picture_silent" // look: the camera gives nothing any more

	WideBases Outcome = "wide_bases" // look: a first picture shows the board only with bases Amount times as wide as told
)

// Symptom is one observation after an act. Metres, frame Board.
type Symptom struct {
	Act     Act     `json:"act"`
	Outcome Outcome `json:"outcome"`
	Piece   Piece   `json:"piece,omitzero"`   // the one carried; Pushed: the one that moved
	Carrier Piece   `json:"carrier,omitzero"` // Pushed: the one that was being carried
	From    Spot    `json:"from,omitzero"`    // where Piece stood before
	To      Spot    `json:"to,omitzero"`      // carry: where it was to go; Pushed: where it stands now
	Found   Spot    `json:"found,omitzero"`   // Arrived, Stayed, Short: where it stands
	Sigma   float64 `json:"sigma,omitzero"`   // standard deviation of Found (Pushed: To) per coordinate
	Path    []Spot  `json:"path,omitempty"`   // the carriage's, corner by corner
	End     Spot    `json:"end,omitzero"`     // Pushed: where the carriage came to its end at last
	Ways    []Way   `json:"ways,omitempty"`   // Pushed: all ways that came near it, where it is not known which one did it
	Axis    string  `json:"axis,omitempty"`   // "x" or "y"
	Amount  float64 `json:"amount,omitempty"` // Lagged: how far behind at most; WideBases: a factor
	Raised  bool    `json:"raised,omitempty"` // Lift: it was to rise
	Beside  bool    `json:"beside,omitempty"` // Carry: it was to go beside the field

	isRepeat bool // of a carry that lost the piece on the way
	isTaken  bool // another piece has come to where this one was to go, in its place: that tells nothing of this one
}

// Way is one way of the carriage that may have moved a piece.
type Way struct {
	Act     Act    `json:"act"`
	Carrier Piece  `json:"carrier"`
	Path    []Spot `json:"path"`
}

// apart is the symptom once for each way that may have brought it.
func (s Symptom) apart() []Symptom {
	if len(s.Ways) == 0 {
		return []Symptom{s}
	}
	out := make([]Symptom, len(s.Ways))
	for i, w := range s.Ways {
		out[i] = s
		out[i].Act, out[i].Carrier, out[i].Path = w.Act, w.Carrier, w.Path
	}
	return out
}

// judgesCarry says whether the symptom tells how a carry ended.
func (s Symptom) judgesCarry() bool {
	switch s.Outcome {
	case Arrived, Stayed, Short, Toppled, Unseen:
		return s.Act == Carry
	}
	return false
}

// hasFailed says whether a carried piece did not come to where it was to go.
func (s Symptom) hasFailed() bool { return s.judgesCarry() && s.Outcome != Arrived }

// accuses says whether that may be the fault of the piece, of what holds it, or of the way.
func (s Symptom) accuses() bool { return s.hasFailed() && !s.isTaken }

// isEvent says whether the symptom is something that was not to happen beside
// the ending of a carry.
func (s Symptom) isEvent() bool { return !s.judgesCarry() && s.Outcome != Done }

// heading is the direction in which the carriage ended its path; zero without one.
func (s Symptom) heading() Spot {
	for i := len(s.Path) - 1; i > 0; i-- {
		if d := s.Path[i].Sub(s.Path[i-1]); d.Norm() > shortestLeg {
			return d.Scale(1 / d.Norm())
		}
	}
	if d := s.To.Sub(s.From); d.Norm() > 0 {
		return d.Scale(1 / d.Norm())
	}
	return Spot{}
}

// length is the carriage's way, metres.
func length(path []Spot) float64 {
	sum := 0.0
	for i := 1; i < len(path); i++ {
		sum += path[i].Distance(path[i-1])
	}
	return sum
}
