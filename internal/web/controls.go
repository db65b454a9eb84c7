// SPDX-License-Identifier: Apache-2.0

package web

import (
	"context"
	"fmt"
	"strings"
)

// Controls is what the pages can do to the game. An error's text is shown to
// the visitor as it is, so it says what to do.
type Controls interface {
	// Hand moves a piece as the visitor's hand would.
	Hand(ctx context.Context, act HandAct) error
	// Answer answers the question with that number by the index of the choice; a
	// question that waits no longer is an error.
	Answer(ctx context.Context, number uint64, choice int) error
	// Halt stops the motors now.
	Halt(ctx context.Context) error
	// Resume lets the machine go on after a halt.
	Resume(ctx context.Context) error
}

// Off is the place beside the board in a HandAct.
const Off = "off"

// Asked is one thing that the guest is asked to do with one piece: like a
// HandAct, but the piece is always named.
type Asked struct {
	From  string `json:"from"`  // a square, or "off"
	To    string `json:"to"`    // a square, or "off"
	Piece string `json:"piece"` // FEN letter
}

// HandAct is one thing the visitor's hand does on the page's plan.
//
//	e2 → e4     moves the piece; a piece that stands on e4 is taken off first
//	d5 → off    takes the piece off the board
//	off → e8, Q puts a piece (FEN letter) on the board; a piece that stands there
//	            (the pawn that is promoted) is taken off first
type HandAct struct {
	From  string `json:"from"`            // a square, or "off"
	To    string `json:"to"`              // a square, or "off"
	Piece string `json:"piece,omitempty"` // FEN letter, only with From "off"
}

// Check says what is wrong with the act, or nil.
func (a HandAct) Check() error {
	for _, end := range []string{a.From, a.To} {
		if end != Off && !isSquare(end) {
			return fmt.Errorf("%q is not a square; give a1 to h8, or %q for beside the board", end, Off)
		}
	}
	switch {
	case a.From == a.To:
		return fmt.Errorf("from and to are both %q; give two different places", a.From)
	case a.From == Off && !isPiece(a.Piece):
		return fmt.Errorf("piece %q is no piece; give a FEN letter, one of KQRBNPkqrbnp", a.Piece)
	case a.From != Off && a.Piece != "":
		return fmt.Errorf("piece goes only with from %q; the piece on %s is known", Off, a.From)
	}
	return nil
}

func isSquare(s string) bool {
	return len(s) == 2 && s[0] >= 'a' && s[0] <= 'h' && s[1] >= '1' && s[1] <= '8'
}

func isPiece(s string) bool {
	return len(s) == 1 && strings.Contains("KQRBNPkqrbnp", s)
}

// The things that may be done instead of answering a question of a bring-up.
const (
	Later = "later" // leave the step
	Again = "again" // do a step that was done, or left, once more
)

// Guide leads through a bring-up. Both errors say what to do.
type Guide interface {
	// Instead does something else than answer the question with that number: Later, or Again
	// with a step's name.
	Instead(ctx context.Context, number uint64, do, step string) error
	// Paper is a paper by its name, with its media type.
	Paper(name string) (text []byte, kind string, err error)
}
