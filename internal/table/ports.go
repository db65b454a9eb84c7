// SPDX-License-Identifier: Apache-2.0

// Package table runs the game at the table: one explicit state machine that
// reads the guest's move from pictures, answers it, has the carriage carry it
// out, looks whether the piece arrived, and never loses the game. It knows the
// machine only through the small interfaces in this file.
package table

import (
	"context"

	"boardhand/internal/carry"
	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/notice"
	"boardhand/internal/sight"
)

// Camera delivers pictures.
type Camera interface {
	// Look returns the next picture. It waits for it, but not longer than ctx.
	Look(ctx context.Context) (sight.Picture, error)
}

// Gantry moves the carriage and the lift. Move and Lift return when the
// motion has ended. After Halt no motion begins but Home, which a Halt that
// comes while it runs stops as well.
type Gantry interface {
	// Home lowers the lift, finds the axes' zeros and returns where the carriage is.
	Home(ctx context.Context) (frame.Spot[frame.Machine], error)
	// Move runs a stroke and returns where the axes say the carriage ended. An
	// axis that lagged and yet arrived is a *carry.Lag.
	Move(ctx context.Context, s carry.Stroke) (frame.Spot[frame.Machine], error)
	// Lift raises the magnet to the board or lowers it by the full drop.
	Lift(ctx context.Context, raised bool) error
	// Halt stops all axes at once and leaves them stopped until Home; the lift
	// stays where it is. It may be called while another method runs.
	Halt() error
}

// Guest is the person on the other side of the board.
type Guest interface {
	// Tell shows a notice; it does not wait for the guest to act.
	Tell(ctx context.Context, n notice.Notice) error
	// Ask returns the index of the guest's choice; it ends with ctx.
	Ask(ctx context.Context, q notice.Question) (int, error)
}

// Eye reads pictures; sight.Reader is the one there is.
type Eye interface {
	// Read says what a picture shows, against the position it knows.
	Read(ctx context.Context, p sight.Picture) (sight.Reading, error)
	Follower
	Witness
	Learner
}

// Witness tells of single places in the last picture.
type Witness interface {
	// Glance takes a picture for Present and Strangers without weighing moves:
	// its reading is sight.Hand, or sight.Same for a picture that can be used.
	Glance(ctx context.Context, p sight.Picture) (sight.Reading, error)
	// Present tells for each place by itself whether a piece stands there.
	Present(at []frame.Spot[frame.Board]) []sight.Presence
	// Strangers lists pieces that stand neither on a square of the eye's
	// position nor at a known place.
	Strangers(known []frame.Spot[frame.Board]) []sight.Stray
	// Seek looks in the last picture for the piece carried off from, wherever it
	// was lost; gone are the squares whose pieces were taken off meanwhile.
	Seek(from chess.Square, gone []chess.Square) (sight.Stray, bool)
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

// Planner plans what the carriage does; carry.Planner is the one there is.
type Planner interface {
	// Move plans a game move.
	Move(ctx context.Context, s carry.Scene, pos chess.Position, m chess.Move) (carry.Plan, error)
	// TakeBack plans to undo a move that was made from a position.
	TakeBack(ctx context.Context, s carry.Scene, before chess.Position, m chess.Move) (carry.Plan, error)
	// SetUp plans to bring every piece to where the next game begins; the second
	// result is a time that no plan can beat.
	SetUp(ctx context.Context, s carry.Scene) (carry.Plan, float64, error)
	Mender
}

// Mender plans what puts things right.
type Mender interface {
	// Straighten plans to bring the piece with index i to the centre of a square.
	Straighten(ctx context.Context, s carry.Scene, i int, to chess.Square) (carry.Plan, error)
	// Resume plans what is left of a move that is partly done.
	Resume(ctx context.Context, s carry.Scene, pos chess.Position, m chess.Move) (carry.Plan, error)
	// Rest plans anew what is left of any other plan, for the pieces as they stand now.
	Rest(ctx context.Context, s carry.Scene, steps []carry.Step) (carry.Plan, error)
	// SlotFor is the free tray slot that is best for the piece with index i.
	SlotFor(s carry.Scene, i int) (frame.Spot[frame.Board], bool)
}

// Player chooses the machine's moves.
type Player interface {
	// Choose ends with ctx.
	Choose(ctx context.Context, g *chess.Game) (chess.Move, error)
	// Weigh says how the game stands for the machine, in centipawns.
	Weigh(ctx context.Context, g *chess.Game) (int, error)
}

// Log keeps what happened.
type Log interface {
	// Append returns when the record is safe on disk. A *PictureError says that
	// the record is, and its picture is not.
	Append(ctx context.Context, r Record) error
}

// PictureError says that a record was kept without its picture.
type PictureError struct{ Err error }

func (e *PictureError) Error() string { return "a picture could not be kept: " + e.Err.Error() }

// Unwrap is why.
func (e *PictureError) Unwrap() error { return e.Err }
