// SPDX-License-Identifier: Apache-2.0

package cast_test

import (
	"image/jpeg"
	"math"
	"os"
	"path/filepath"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/rig"
	"boardhand/internal/sight"
	"boardhand/internal/sight/cast"
	"boardhand/internal/sight/pixels"
	"boardhand/internal/sight/scene"
	"boardhand/internal/sight/tracking"
)

// lowLamp is a picture, drawn by the ray tracer povray, of the pieces at the start of a game
// under one low lamp in a dark room (go run ./tools/scenes -set roomv -only 17).
const lowLamp = "../testdata/lowlamp"

// lampAt is where the middle of that lamp is in the ray tracer's scene, and lampWidth how wide
// it is, metres.
var lampAt = frame.Point[frame.Board]{X: 0.0860, Y: 0.7533, Z: 0.3192}

const lampWidth = 0.1169

// table is a tracker of the picture that was told a board, and the picture.
func table(t *testing.T, board scene.Occupancy) (*tracking.Tracker, *pixels.Image) {
	t.Helper()
	r, err := rig.Load(filepath.Join(lowLamp, "rig.toml"), rig.Watching)
	if err != nil {
		t.Fatal(err)
	}
	setup, err := sight.SetupFrom(r)
	if err != nil {
		t.Fatal(err)
	}
	f, err := os.Open(filepath.Join(lowLamp, "frame_0001.jpg"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	img, err := jpeg.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	view, err := sight.FindBoard(setup, img, nil)
	if err != nil {
		t.Fatal(err)
	}
	raw := pixels.Reduce(img, pixels.Reduction(view))
	e := tracking.New(setup, view, board, nil)
	lit, ok := e.LearnLight(raw)
	if !ok {
		t.Fatal("too little of the board is seen")
	}
	e.Calibrate(raw, lit)
	return e, raw
}

// TestLamp: the lamp is found in the direction in which the ray tracer had it, by no more aside
// than it is wide: a broad lamp's shadows are pale at their ends. How far away it is hardly shows.
func TestLamp(t *testing.T) {
	start := chess.Start()
	e, raw := table(t, scene.OccupancyOf(&start))
	s := cast.Of(&e.Scene, raw, e.Even.Image)
	if s == nil {
		t.Fatal("no lamp is found")
	}
	bearing := func(p frame.Point[frame.Board]) float64 { return math.Atan2(p.Y, p.X) * 180 / math.Pi }
	height := func(p frame.Point[frame.Board]) float64 { return math.Atan2(p.Z, p.Spot().Norm()) * 180 / math.Pi }
	wide := math.Atan(lampWidth/math.Hypot(lampAt.Spot().Norm(), lampAt.Z)) * 180 / math.Pi
	if d := bearing(s.Lamp) - bearing(lampAt); math.Abs(d) > wide {
		t.Errorf("it is found %.1f° aside", d)
	}
	if d := height(s.Lamp) - height(lampAt); math.Abs(d) > wide {
		t.Errorf("it is found %.1f° too high", d)
	}
	for q := chess.Square(2 * 8); q < 6*8; q++ {
		if v := s.Speak(e.Setup.Centre(q)); v > -4 {
			t.Errorf("%v is bare, and its missing shadow says %.1f nats", q, v)
		}
	}
}

// TestUnforeseen: pieces that nobody spoke of are not taken for light, for they cast their
// shadows like the others.
func TestUnforeseen(t *testing.T) {
	for _, name := range []string{"a2", "c1", "d7"} {
		q := chess.Square(name[0] - 'a' + 8*(name[1]-'1'))
		start := chess.Start()
		board := scene.OccupancyOf(&start)
		board[q] = chess.NoPiece
		e, raw := table(t, board)
		if v := cast.Of(&e.Scene, raw, e.Even.Image).Speak(e.Setup.Centre(q)); v < -1 {
			t.Errorf("a piece stands on %v, and its shadow says %.1f nats", q, v)
		}
	}
}
