// SPDX-License-Identifier: Apache-2.0

package lens

import (
	"errors"
	"image"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
)

// ErrNoPicture says that the camera did not deliver; the next look may.
var ErrNoPicture = errors.New("the camera delivered no picture: check its cable, then look again")

// Scene is what stands before the camera at one moment.
type Scene struct {
	Pieces []Piece // that stand or lie anywhere; those of equal distance in the order of the list
	Arm    *Arm    // nil: no hand is over the table
	Sheet  *Sheet  // that is held before the camera; nil: none
}

// Piece is a piece as the picture needs it. Equal values make equal pictures.
type Piece struct {
	ID      int // its own among the pieces of one table
	Piece   chess.Piece
	At      frame.Spot[frame.Board] // centre of the base, m
	Z       float64                 // of the base over the playing surface, m
	OnTable bool                    // its shadow falls on the table beside the machine
	Base    float64                 // radius, m
	Height  float64                 // m
	Yaw     float64                 // which way it looks, rad
	Shade   float64                 // its own colour over the set's
	Lean    frame.Spot[frame.Board] // of a piece not quite upright, rad
	Rock    float64                 // angle tipped towards −Heading, rad
	Heading frame.Spot[frame.Board] // direction in which it was last pushed, or lies
	Fallen  bool
}

// Arm is a guest's hand with its arm and sleeve.
type Arm struct {
	Tip   frame.Point[frame.Board] // between the fingertips, m
	Rest  frame.Point[frame.Board] // where the hand comes from, m
	Elbow frame.Point[frame.Board] // m
	Look  Look
	Holds *Piece // nil: nothing
}

// Look is how an arm looks.
type Look struct {
	Skin   [3]float64 // linear reflectance, red green blue
	Sleeve [3]float64 // the same
	Thick  float64    // of the fingers over the usual
}

// Picture is what the camera delivers.
type Picture struct {
	Number   int // how many were taken before
	JPEG     []byte
	Image    image.Image // decoded from JPEG
	IsFrozen bool        // it is the last one again
}
