// SPDX-License-Identifier: Apache-2.0

// Package bringup starts a machine up, step by step: what is said, what moves, what is
// measured. Each step that moves something says what, and waits for the maker's word.
package bringup

import (
	"context"
	"errors"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/motion"
	"boardhand/internal/photo"
)

// Gantry is what moves.
type Gantry interface {
	Home(ctx context.Context) (frame.Spot[frame.Machine], error)
	Move(ctx context.Context, s motion.Stroke) (frame.Spot[frame.Machine], error)
	Lift(ctx context.Context, raised bool) error
	Halt() error
}

// Camera is what sees.
type Camera interface {
	Look(ctx context.Context) (photo.Picture, error)
}

// Asking is what kind of thing the maker is asked.
type Asking int

// The kinds of requests.
const (
	Confirm   Asking = iota // that something was read, or may move
	Clear                   // the board, of everything
	Put                     // a piece on a square
	Watch                   // what the maker sees: is it so?
	HoldSheet               // the printed checkerboard before the camera
	Agree                   // to the cautions
	Choose                  // whether a step is done one way or the other: no is an answer
)

// Request is what the maker is asked to do or say.
type Request struct {
	Asking Asking
	Text   string
	Piece  chess.Piece
	On     chess.Square
	Hold   Hold
}

// Maker is the person at the machine.
type Maker interface {
	// Tell says something that wants no answer.
	Tell(text string)
	// Count says how many parts of the step are done, of how many, and what they are: "places".
	Count(done, of int, what string)
	// Ask waits for yes or no.
	Ask(ctx context.Context, r Request) (bool, error)
}

// ErrRefused says that the maker answered no.
var ErrRefused = errors.New("stopped at your word; run bringup again to go on from here")
