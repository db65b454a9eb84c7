// SPDX-License-Identifier: Apache-2.0

// Package table runs the game at the table: one explicit state machine that
// reads the guest's move from pictures, answers it, has the carriage carry it
// out, looks whether the piece arrived, and never loses the game. It knows the
// machine only through the small interfaces in this file.
package table

import (
	"context"
	"time"

	"boardhand/internal/carry"
	"boardhand/internal/carry/plan"
	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/rig"
	"boardhand/internal/table/carriage"
	"boardhand/internal/table/desk"
	"boardhand/internal/table/lookout"
	"boardhand/internal/table/model"
	"boardhand/internal/table/suspects"
	"boardhand/internal/table/view"
)

// Parts are what a table is made of.
type Parts struct {
	Camera  Camera
	Gantry  Gantry
	Guest   Guest
	Eye     Eye
	Planner Planner
	Player  Player
	Log     Log
	Lookout Lookout // what watches the board while a piece is carried; a part that is missing: nobody does
}

// Settings are what the table knows of the machine, and how it plays.
type Settings struct {
	Machine  Machine
	Gearing  *carry.Gearing // from the board to the motors
	Patience time.Duration  // between tries when the camera is silent
	Slow     time.Duration  // a reading that takes longer is told of; 0: never
	MaxPlies int            // stop there; 0: no limit
	Suspects *Suspects      // of this machine; nil: none is kept
	Strength string         // how strongly the machine plays as the game begins or goes on; "": that cannot be chosen
}

// What whoever sets a table hands in and sees, by the names of its parts.
type (
	Camera   = view.Camera
	Gantry   = carriage.Gantry
	Lookout  = lookout.Parts
	Guest    = desk.Guest
	Log      = desk.Log
	Event    = desk.Event
	Machine  = model.Machine
	Suspects = suspects.Suspects
)

// Raised says of Event.Lift that the magnet is at the board.
const Raised = model.Raised

// NewSuspects opens a case for the machine of a rig file.
func NewSuspects(r *rig.Rig) (*Suspects, error) { return suspects.New(r) }

// Eye is what sees the board, by its parts: sight.Reader is all of them.
type Eye struct {
	Reader   view.Reader
	Witness  view.Witness
	Follower Follower
	Learner  Learner
	Gauge    func() float64 // how many times as wide as told bases look, 1: as told; nil: nobody measures
}

// Follower keeps the eye's position in step with the game.
type Follower interface {
	// Expect says which move the machine is making.
	Expect(m chess.Move)
	// Accept makes a move on its position.
	Accept(m chess.Move) error
	// Resolve makes the move that a person named; zero: nothing has changed.
	Resolve(m chess.Move) error
}

// Learner is told what the position is when no move leads to it.
type Learner interface {
	// Reposition sets a position taken back to, or set up; what is known of the
	// light and the camera stays, and the next picture must prove the position.
	Reposition(pos chess.Position)
	// Agree makes a position the truth of the last picture: a person said so.
	Agree(pos chess.Position)
	// Afresh forgets camera, light and looks.
	Afresh()
}

// Planner plans what the carriage does, by its parts: carry.Planner is both.
type Planner struct {
	Drafter Drafter
	Mender  Mender
}

// Drafter plans what a game asks for.
type Drafter interface {
	// Move plans a game move.
	Move(ctx context.Context, s plan.Scene, pos chess.Position, m chess.Move) (plan.Plan, error)
	// TakeBack plans to undo a move that was made from a position.
	TakeBack(ctx context.Context, s plan.Scene, before chess.Position, m chess.Move) (plan.Plan, error)
	// SetUpTo plans to bring every piece to where it stands when the next game begins;
	// the second result is a time that no plan can beat.
	SetUpTo(ctx context.Context, s plan.Scene, start chess.Position) (plan.Plan, float64, error)
}

// Mender plans what puts things right.
type Mender interface {
	// Straighten plans to bring the piece with index i to the centre of a square.
	Straighten(ctx context.Context, s plan.Scene, i int, to chess.Square) (plan.Plan, error)
	// Resume plans what is left of a move that is partly done.
	Resume(ctx context.Context, s plan.Scene, pos chess.Position, m chess.Move) (plan.Plan, error)
	// Rest plans anew what is left of any other plan, for the pieces as they stand now.
	Rest(ctx context.Context, s plan.Scene, steps []plan.Step) (plan.Plan, error)
	// SlotFor is the free tray slot that is best for the piece with index i.
	SlotFor(s plan.Scene, i int) (frame.Spot[frame.Board], bool)
}

// Player chooses the machine's moves.
type Player interface {
	// Choose ends with ctx.
	Choose(ctx context.Context, g *chess.Game) (chess.Move, error)
	// Weigh says how the game stands for the machine, in centipawns.
	Weigh(ctx context.Context, g *chess.Game) (int, error)
	desk.Helper
}
