// SPDX-License-Identifier: Apache-2.0

// Package notice holds what the machine and the guest say to each other: one
// sentence in plain words, with its meaning beside it for programs.
package notice

import (
	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/game"
)

// Kind says what a notice is about.
type Kind string

// The kinds of notice.
const (
	YourMove   Kind = "your_move"   // Move is the machine's last move, zero at the start
	Wait       Kind = "wait"        // the machine thinks or moves: hands off, please
	HandSeen   Kind = "hand_seen"   // what looks like a hand stays over the board
	PleaseTake Kind = "please_take" // take the piece on Squares[0] off the board
	PleasePut  Kind = "please_put"  // put Piece on Squares[0] (promotion; a slipped piece)
	PleaseMend Kind = "please_mend" // the board differs from the game: set it as in FEN
	TakingBack Kind = "taking_back" // the last move is taken back: whatever the guest was about to play is off
	Hint       Kind = "hint"        // it is still the guest's move: Squares are the piece to look at and, if that was asked, where to go
	GameOver   Kind = "game_over"
)

// Notice is one sentence for the guest.
type Notice struct {
	Kind    Kind
	Text    string
	Move    chess.Move
	Piece   chess.Piece
	Squares []chess.Square
	FEN     string // the position the board should show
	// Acts are the single things asked for, one piece each.
	Acts []Act
	// Slot is where in the tray a piece is to be stood that the guest takes in the
	// move asked for; nil: they keep it.
	Slot *frame.Spot[frame.Board]
}

// Act is what a person is asked to do with one piece: what is done in any game
// on the machine, and named here as what is said.
type Act = game.Act

// Question is a choice put to the guest.
type Question struct {
	Number  uint64 // set by the table: one question, one number, and an answer carries it to the end
	Text    string
	Choices []string     // in plain words; the last may be "none of these"
	Moves   []chess.Move // beside Choices; zero for "nothing" and "none of these"
}
