// SPDX-License-Identifier: Apache-2.0

package plan

import (
	"encoding/json"
	"strings"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/game"
)

type spot = frame.Spot[frame.Board]

var pawn = chess.MakePiece(chess.Black, chess.Pawn)

// A question for several things is one step, and as many single ones.
func TestSingle(t *testing.T) {
	s := Step{Do: Ask, Text: "Please do both.", Acts: []game.Act{{Piece: pawn, From: 1, To: 2}, {Piece: pawn, From: chess.NoSquare, To: 9}}}
	got := s.Single()
	if len(got) != 2 || got[0].From != 1 || got[0].To != 2 || got[1].From != chess.NoSquare || got[1].To != 9 || got[1].Text != s.Text {
		t.Errorf("got %+v", got)
	}
	if got := (Step{Do: Grip, Piece: pawn}).Single(); len(got) != 1 || got[0].Do != Grip {
		t.Errorf("a grip taken apart: %+v", got)
	}
	if n := (Plan{Steps: []Step{s, {Do: Grip}, s}}).Asks(); n != 2 {
		t.Errorf("%d questions, want 2", n)
	}
}

// The piece that a carry takes along is the nearest of its kind.
func TestHeld(t *testing.T) {
	knight := chess.MakePiece(chess.Black, chess.Knight)
	s := Scene{Pieces: []Piece{{Piece: pawn, At: spot{X: 0.1}}, {Piece: knight, At: spot{X: 0.02}}, {Piece: pawn, At: spot{X: 0.03}}}}
	carry := Step{Do: Carry, Piece: pawn, PiecePath: []spot{{X: 0.021}, {X: 1}}}
	if k := s.Held(carry); k != 2 {
		t.Errorf("piece %d is held, want 2", k)
	}
	if k := (Scene{}).Held(carry); k != -1 {
		t.Errorf("piece %d of none is held", k)
	}
}

// Numbers that no plan can keep are refused, with what to do.
func TestLimitsAreChecked(t *testing.T) {
	b := Bounds{Speed: 0.1, Accel: 0.4, Jerk: 4}
	d := Drive{Most: b, Axes: [2]Bounds{b, b}}
	good := Limits{Carry: d, Travel: d, Inside: frame.Rect[frame.Board]{Max: spot{X: 1, Y: 1}}}
	if err := good.Check(); err != nil {
		t.Error(err)
	}
	for want, spoil := range map[string]func(*Limits){
		"more than 0": func(l *Limits) { l.Travel.Axes[1].Jerk = 0 },
		"reaches":     func(l *Limits) { l.Inside.Max.Y = 0 },
		"negative":    func(l *Limits) { l.Lag = -1e-3 },
	} {
		l := good
		spoil(&l)
		if err := l.Check(); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: got %v", want, err)
		}
	}
}

// Printed paths are in millimetres; a place beside the board has a word.
func TestJSON(t *testing.T) {
	text, err := JSON(Plan{Steps: []Step{{Do: Carry, Piece: pawn, From: 8, To: chess.NoSquare, Path: []spot{{X: 0.0123456789}, {Y: -0.5}}, Speed: 0.12}}, Time: 1.5}, Told{Kinds: &game.ChessKinds})
	if err != nil {
		t.Fatal(err)
	}
	var got struct {
		Steps []struct {
			Path  [][2]float64 `json:"path_mm"`
			From  string       `json:"from"`
			To    string       `json:"to"`
			Speed float64      `json:"speed_mm_s"`
		} `json:"steps"`
		Time float64 `json:"time_s"`
	}
	if err := json.Unmarshal(text, &got); err != nil {
		t.Fatal(err)
	}
	s := got.Steps[0]
	if s.Path[0] != [2]float64{12.346, 0} || s.Path[1] != [2]float64{0, -500} || s.From != "a2" || s.To != "beside" || s.Speed != 120 || got.Time != 1.5 {
		t.Errorf("printed %s", text)
	}
}
