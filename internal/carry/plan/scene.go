package plan

import (
	"boardhand/internal/chess"
	"boardhand/internal/frame"
)

// Piece is one piece as it stands now.
type Piece struct {
	Piece  chess.Piece
	Square chess.Square            // NoSquare when beside the board
	At     frame.Spot[frame.Board] // measured centre of the base
	Sigma  float64                 // standard deviation of At per coordinate, metres
	Magnet bool                    // its base holds a magnet
	Foot   float64                 // diameter of the base, metres
}

// Scene is everything that stands on and beside the board.
type Scene struct {
	Men      []Piece
	Carriage frame.Spot[frame.Board] // where the magnet's axis is now
}
