// SPDX-License-Identifier: Apache-2.0

package scene

import (
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/optics"
	"boardhand/internal/sight/silhouette"
)

// overBoard is the start position under a camera half a metre above the board's centre.
func overBoard(t *testing.T) *Scene {
	t.Helper()
	s := square50
	s.Image = [2]int{640, 640}
	for k := chess.Pawn; k <= chess.King; k++ {
		s.Pieces[k] = silhouette.Shape{Height: 0.04 + 0.005*float64(k), Base: 0.025}
	}
	v, err := optics.Nominal(s.Image, 1.2, 0.5, "bottom")
	if err != nil {
		t.Fatal(err)
	}
	start := chess.Start()
	sc := New(s, v, OccupancyOf(&start), 0)
	return &sc
}

// All pieces of the position stand in the scene, nearest to the camera's foot point
// first, and one given another place stands there.
func TestSceneOrder(t *testing.T) {
	sc := overBoard(t)
	if len(sc.Pieces) != 32 {
		t.Fatalf("%d pieces", len(sc.Pieces))
	}
	e2 := chess.SquareAt(4, 1)
	there := sc.Setup.Centre(e2).Add(frame.Spot[frame.Board]{X: 0.004})
	sc.Place(map[chess.Square]frame.Spot[frame.Board]{e2: there})
	for k := 1; k < len(sc.Pieces); k++ {
		if sc.Pieces[k].Reach < sc.Pieces[k-1].Reach {
			t.Errorf("%v stands before %v", sc.Pieces[k].Square, sc.Pieces[k-1].Square)
		}
	}
	if at := sc.Places()[e2]; at != there {
		t.Errorf("e2 stands at %v, want %v", at, there)
	}
}

// What a scene covers does not lie open, and grounds are told apart: a1 is dark, a2
// light, the margin neither, and far away there is no board.
func TestSceneGrounds(t *testing.T) {
	sc := overBoard(t)
	a1 := sc.Setup.Centre(chess.SquareAt(0, 0))
	px := func(at frame.Spot[frame.Board]) int32 {
		x, y, ok := sc.Plane.Project(at.At(0))
		if !ok {
			t.Fatalf("%v is not in the picture", at)
		}
		return int32(int(y+0.5)*sc.Plane.W + int(x+0.5))
	}
	if open := sc.Stack.Open(px(a1)); open > 0.1 {
		t.Errorf("under a rook %g of the board is seen", open)
	}
	e4 := px(sc.Setup.Centre(chess.SquareAt(4, 3)))
	if open := sc.Stack.Open(e4); open < 0.99 {
		t.Errorf("of an empty square %g is seen", open)
	}
	for _, c := range []struct {
		name string
		at   frame.Spot[frame.Board]
		want uint8
		zone int
	}{
		{"a1", a1, DarkGround, OverField},
		{"a2", sc.Setup.Centre(chess.SquareAt(0, 1)), LightGround, OverField},
		{"the margin", frame.Spot[frame.Board]{X: 0.21}, MarginGround, overMargin},
		{"beside the board", frame.Spot[frame.Board]{X: 0.24}, NoGround, Beside},
	} {
		i := px(c.at)
		if got := sc.Grounds[i]; got != c.want {
			t.Errorf("%s is ground %d, want %d", c.name, got, c.want)
		}
		if got := sc.Zone(int(i)); got != c.zone {
			t.Errorf("%s is zone %d, want %d", c.name, got, c.zone)
		}
	}
}

// Pixels that are accounted count by where they lie.
func TestPatch(t *testing.T) {
	sc := overBoard(t)
	var p Patch
	e4 := chess.SquareAt(4, 3)
	x, y, _ := sc.Plane.Project(sc.Setup.Centre(e4).At(0))
	i := int(y+0.5)*sc.Plane.W + int(x+0.5)
	sc.Account(&p, i, 3)
	want := sc.AreaOf(3)
	if p.Area != want || p.Inside != want || p.Sheet != want {
		t.Errorf("three pixels on e4: %+v, want %g each", p, want)
	}
	if p.CountSquares(want / 2); len(p.Squares) != 1 || p.Squares[0] != e4 {
		t.Errorf("they lie on %v", p.Squares)
	}
	if p.CountSquares(2 * want); len(p.Squares) != 0 {
		t.Errorf("more than all of it lies on %v", p.Squares)
	}
}
