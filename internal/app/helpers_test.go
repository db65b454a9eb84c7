package app

import (
	"testing"

	"boardhand/internal/chess"
)

// board is which piece stands on each square.
type board = [64]chess.Piece

func sq(name string) chess.Square { return chess.SquareAt(int(name[0]-'a'), int(name[1]-'1')) }

func positionOf(t *testing.T, fen string) chess.Position {
	t.Helper()
	pos, err := chess.ParseFEN(fen)
	if err != nil {
		t.Fatal(err)
	}
	return pos
}
