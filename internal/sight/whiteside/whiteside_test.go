// SPDX-License-Identifier: Apache-2.0

package whiteside

import (
	"image"
	"math"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/optics"
	"boardhand/internal/sight/scene"
)

var table = scene.Setup{Square: 0.04}

// from is a camera straight above the board with White at the bottom.
func from(t *testing.T) optics.View {
	t.Helper()
	v, err := optics.Nominal([2]int{640, 480}, 1.1, 0.5, "bottom")
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// painted is a board with a disc for each piece, levels by side, as the view sees it.
func painted(v optics.View, board scene.Occupancy, white, black uint8) *image.Gray {
	g := image.NewGray(image.Rect(0, 0, 640, 480))
	for k := range g.Pix {
		at, err := v.OnPlane(frame.Spot[frame.Image]{X: float64(k % 640), Y: float64(k / 640)}, 0)
		if err != nil || math.Max(math.Abs(at.X), math.Abs(at.Y)) >= table.HalfField() {
			g.Pix[k] = 90
			continue
		}
		q := table.SquareAt(at)
		g.Pix[k] = [2]uint8{80, 170}[(int(q)/8+int(q))&1]
		if p := board[q]; p != chess.NoPiece && at.Distance(table.Centre(q)) < 0.25*table.Square {
			g.Pix[k] = [2]uint8{white, black}[p.Color()]
		}
	}
	return g
}

// At the start only the sides' brightness tells; later the places of the pieces do, too.
func TestOdds(t *testing.T) {
	v := from(t)
	start := chess.Start()
	later, err := chess.ParseFEN("r4rk1/1P3pp1/2p4p/8/4n3/2N2N2/1p3PPP/R4RK1 b - - 0 26")
	if err != nil {
		t.Fatal(err)
	}
	for name, pos := range map[string]*chess.Position{"start": &start, "later": &later} {
		board := scene.OccupancyOf(pos)
		g := painted(v, board, 220, 30)
		if o := Odds(g, v, table, board); o < 8 {
			t.Errorf("%s: White sits where it does with %.1f nats", name, o)
		}
		if o := Odds(g, Turned(v), table, board); o > -8 {
			t.Errorf("%s: White sits across with %.1f nats", name, -o)
		}
	}
	board := scene.OccupancyOf(&start)
	if o := Odds(painted(v, board, 128, 128), v, table, board); math.Abs(o) > 1 {
		t.Errorf("sides that look alike tell %.1f nats", o)
	}
}

// Turned twice is the view itself; turned once has a1 where h8 was.
func TestTurned(t *testing.T) {
	v := from(t)
	a1, h8 := table.Centre(chess.SquareAt(0, 0)), table.Centre(chess.SquareAt(7, 7))
	was, _ := v.Project(h8.At(0))
	if is, _ := Turned(v).Project(a1.At(0)); is.Distance(was) > 1e-9 {
		t.Errorf("a1 is seen at %v, h8 was at %v", is, was)
	}
	twice, _ := Turned(Turned(v)).Project(a1.At(0.03))
	once, _ := v.Project(a1.At(0.03))
	if twice.Distance(once) > 1e-9 {
		t.Errorf("turned twice a1 is seen at %v, not %v", twice, once)
	}
}
