// SPDX-License-Identifier: Apache-2.0

package web

import (
	"slices"
	"strings"
	"testing"
)

// where prints pieces as "P e4, n -": letter, square.
func where(pieces []Piece) string {
	var out []string
	for _, m := range pieces {
		at := m.Square
		if at == "" {
			at = "-"
		}
		out = append(out, m.Piece+" "+at)
	}
	slices.Sort(out)
	return strings.Join(out, ", ")
}

func TestPiecesFollowTheFEN(t *testing.T) {
	old := []Piece{
		{ID: "k", Piece: "K", Square: "e1", X: 16.7, Y: -112.3},
		{ID: "p", Piece: "P", Square: "e2", X: 16, Y: -80},
		{ID: "x", Piece: "q", Square: "d4"},
		{ID: "gone", Piece: "n"},
	}
	pieces := piecesOf("8/8/8/8/4P3/8/8/4K2R w K - 0 1", old, 32)
	if got, want := where(pieces), "K e1, P e4, R h1"; got != want {
		t.Fatalf("got %s, want %s", got, want)
	}
	for _, m := range pieces {
		switch m.ID {
		case "k":
			if m.X != 16.7 || m.Y != -112.3 {
				t.Errorf("the king, which did not move, lost its measured place: %+v", m)
			}
		case "p":
			if m.X != 16 || m.Y != -16 {
				t.Errorf("the pawn kept its name but stands on %v, %v; e4's centre is 16, −16", m.X, m.Y)
			}
		}
	}
}

func TestTheCarriedPieceStaysWhereTheCarriageLeftIt(t *testing.T) {
	piece := Piece{ID: "n", Piece: "n", Square: "g8", X: 80, Y: 112}
	for _, c := range []struct {
		desc string
		then Event
		x, y float64
	}{
		{"arrived", Event{Carriage: &Carriage{X: 48, Y: 82}}, 48, 80},
		{"halted on the way", Event{Carriage: &Carriage{X: 70, Y: 96}}, 70, 96},
		{"next stretch", Event{Motion: &Motion{Path: []Place{{48, 82}, {0, 0}}, Duration: 1}}, 48, 80},
		{"measured", Event{Carriage: &Carriage{X: 48, Y: 82}, Pieces: []Piece{{ID: "n", X: 49, Y: 79}}}, 49, 79},
	} {
		s := New(nil)
		s.Publish(Event{Pieces: []Piece{piece}})
		s.Publish(Event{Motion: &Motion{Path: []Place{{80, 112}, {48, 82}}, PiecePath: []Place{{80, 112}, {48, 80}}, Duration: 1, Carrying: "g8"}})
		s.Publish(c.then)
		if got := s.state.Pieces[0]; got.X != c.x || got.Y != c.y {
			t.Errorf("%s: at %v, %v; want %v, %v", c.desc, got.X, got.Y, c.x, c.y)
		}
	}
}

func TestPublishLeavesTheCallersSlicesAlone(t *testing.T) {
	log := []Line{{Text: "one"}}
	pieces := []Piece{{ID: "n", Square: "a1", X: 1}}
	s := New(nil)
	s.Publish(Event{Log: log, Pieces: pieces})
	s.Publish(Event{Motion: &Motion{Path: []Place{{0, 0}, {9, 9}}, Carrying: "n", Duration: 1}})
	s.Publish(Event{Carriage: &Carriage{X: 9, Y: 9}})
	if log[0].N != 0 || pieces[0].X != 1 {
		t.Errorf("changed: %+v %+v", log, pieces)
	}
}

func TestANewGameForgetsTheOld(t *testing.T) {
	s := New(nil)
	s.Publish(Event{Moves: []string{"e4"}, LastMove: "e2e4", Result: "1-0"})
	s.Publish(Event{Moves: []string{}})
	if s.state.LastMove != "" || s.state.Result != "" || len(s.state.Moves) != 0 {
		t.Errorf("kept %+v", s.state)
	}
}

func FuzzPiecesOf(f *testing.F) {
	f.Add(specimenStart)
	f.Add("9/K/ppppppppppp////////x")
	f.Fuzz(func(t *testing.T, fen string) {
		seen := map[string]bool{}
		for _, m := range piecesOf(fen, []Piece{{ID: "a", Piece: "P", Square: "e2"}}, 32) {
			if !isPiece(m.Piece) || !isSquare(m.Square) || seen[m.Square] {
				t.Fatalf("%q: %+v", fen, m)
			}
			seen[m.Square] = true
		}
	})
}
