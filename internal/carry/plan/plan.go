// SPDX-License-Identifier: Apache-2.0

// Package plan holds what the carriage is to do, step by step, and the limits
// within which it must: data for the planner, which makes plans, for the
// validator, which checks them, and for the session, which runs them.
package plan

import (
	"boardhand/internal/frame"
	"boardhand/internal/game"
	"boardhand/internal/unit"
)

// Do is one kind of step.
type Do string

// The kinds of step, as printed by `route`.
const (
	Travel  Do = "travel"  // magnet lowered, nothing follows
	Grip    Do = "grip"    // raise the magnet under a piece
	Carry   Do = "carry"   // drag the piece along Path
	Release Do = "release" // lower the magnet
	// Ask: a person must do something; Text says what. After it Piece stands on
	// To: it came from From, or from beside the board when From is NoSquare (a
	// piece already on To goes off). To NoSquare: it goes off. From = To: it was
	// set straight in its square.
	Ask Do = "ask"
)

// Step is one thing done. Paths are polylines on the board plane, metres.
type Step struct {
	Do        Do
	Path      []frame.Spot[frame.Board] // the carriage's (magnet axis)
	PiecePath []frame.Spot[frame.Board] // carry: the piece's own
	Piece     game.Piece                // grip, carry, release, ask: which piece
	From, To  game.Square               // of the piece; NoSquare when beside the board
	Text      string                    // ask: one sentence for the guest; carry: "steps aside", "returns", or empty
	Speed     unit.Speed                // travel, carry: limit along the path; see motion.Stroke
	Accel     unit.Acceleration         // travel, carry: limit along the path
	Jerk      unit.Jerk                 // travel, carry: limit along the path
	Time      unit.Duration             // predicted

	Acts       []game.Act // ask: the single things, when Text asks for several at once; then the step's own piece and squares say nothing
	trajectory []Sample   // travel, carry: see Trajectory
}

// Trajectory is how the carriage drives the path of a travel or a carry: corners
// rounded, sample after sample. Empty for a step whose drive nobody has planned.
func (s Step) Trajectory() []Sample { return s.trajectory }

// Ridden is the step driven in that way.
func (s Step) Driven(trajectory []Sample) Step {
	s.trajectory = trajectory
	return s
}

// Plan is a whole move.
type Plan struct {
	Steps []Step
	Time  unit.Duration // predicted, without waiting for people

	Asides int // own pieces that step aside and return
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
