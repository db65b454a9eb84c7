// SPDX-License-Identifier: Apache-2.0

package physics

import (
	"math/rand/v2"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/magnet"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

type spot = frame.Spot[frame.Board]

const kings = "4k3/8/8/3r4/8/8/8/4K3 b - - 0 1" // a rook on d5 and room around

// far is a drive magnet that nobody feels.
var far = Magnet{At: spot{X: 9}}

// counted is a table with what it told of, in order.
type counted struct {
	*Table
	told []Event
}

func (c *counted) count(e Event) (n int) {
	for _, x := range c.told {
		if x == e {
			n++
		}
	}
	return n
}

// tableOf sets a position up on a table exactly as the rig says, each piece on
// its square's middle, and lets it settle.
func tableOf(t testing.TB, r *rig.Rig, fen string) *counted {
	t.Helper()
	return bowed(t, r, fen, [4]float64{})
}

func bowed(t testing.TB, r *rig.Rig, fen string, bow [4]float64) *counted {
	t.Helper()
	var c counted
	s := Setting{DriveBr: mean(t, r.Lift.Grade), BaseBr: mean(t, r.Pieces.Magnet.Grade), Bow: bow,
		Chance: rand.New(rand.NewPCG(1, 2)), Tell: func(e Event) { c.told = append(c.told, e) }}
	var err error
	if c.Table, err = New(r, s); err != nil {
		t.Fatal(err)
	}
	pos, err := chess.ParseFEN(fen)
	if err != nil {
		t.Fatal(err)
	}
	for q := chess.Square(0); q < chess.NoSquare; q++ {
		if p := pos.At(q); p != chess.NoPiece {
			c.Turn(p).At = c.Centre(q)
		}
	}
	c.Settle(far)
	return &c
}

func mean(t testing.TB, grade string) unit.FluxDensity {
	t.Helper()
	lo, hi, err := magnet.Grade(grade)
	if err != nil {
		t.Fatal(err)
	}
	return (lo + hi) / 2
}

// on is the piece that stands on a square.
func (c *counted) on(name string) *Piece {
	for _, b := range c.Pieces {
		if c.Square(b) == squareOf(name) {
			return b
		}
	}
	return nil
}

func squareOf(name string) chess.Square { return chess.SquareAt(int(name[0]-'a'), int(name[1]-'1')) }
