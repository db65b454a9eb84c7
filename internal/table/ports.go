// Package table runs the game at the table: one explicit state machine that
// reads the guest's move from pictures, answers it, has the carriage carry it
// out, looks whether the man arrived, and never loses the game. It knows the
// machine only through the small interfaces in this file.
package table

import (
	"context"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/sight"
	"boardhand/internal/unit"
)

// Camera delivers pictures.
type Camera interface {
	// Look returns the next picture. It waits for it, but not longer than ctx.
	Look(ctx context.Context) (sight.Picture, error)
}

// Stroke is one stretch of carriage motion with the lift where it is.
type Stroke struct {
	Path  []frame.Spot[frame.Machine] // polyline, metres; the first point is where the carriage is
	Speed unit.Speed                  // limit along the path
	Accel unit.Acceleration           // limit along the path
}

// Gantry moves the carriage and the lift. Every method returns when the
// motion has ended.
type Gantry interface {
	// Home finds the axes' zeros and lowers the lift.
	Home(ctx context.Context) error
	// Move runs a stroke and returns where the axes say the carriage ended.
	Move(ctx context.Context, s Stroke) (frame.Spot[frame.Machine], error)
	// Lift raises the magnet to the board or lowers it by the full drop.
	Lift(ctx context.Context, raised bool) error
	// Halt stops all axes at once; the lift stays where it is and holds no man up.
	Halt() error
}

// NoticeKind says what the guest is told.
type NoticeKind string

// The kinds of notice.
const (
	YourMove   NoticeKind = "your_move"   // Move is the machine's last move, zero at the start
	Wait       NoticeKind = "wait"        // the machine thinks or moves; hands off
	PleaseTake NoticeKind = "please_take" // take the man on Squares[0] off the board
	PleasePut  NoticeKind = "please_put"  // put Piece on Squares[0] (promotion; a slipped man)
	PleaseMend NoticeKind = "please_mend" // the board differs from the game: see Text and Squares
	GameOver   NoticeKind = "game_over"
)

// Notice is one sentence for the guest, with its meaning for programs.
type Notice struct {
	Kind    NoticeKind
	Text    string // the sentence, in plain words
	Move    chess.Move
	Piece   chess.Piece
	Squares []chess.Square
	FEN     string // the position of the game as the machine knows it
}

// Question is a choice put to the guest.
type Question struct {
	Text    string
	Choices []string     // in plain words; the last may be "none of these"
	Moves   []chess.Move // beside Choices; zero for "nothing" or "none of these"
}

// Guest is the person on the other side of the board.
type Guest interface {
	// Tell shows a notice; it does not wait for the guest to act.
	Tell(ctx context.Context, n Notice) error
	// Ask returns the index of the guest's choice.
	Ask(ctx context.Context, q Question) (int, error)
}
