// SPDX-License-Identifier: Apache-2.0

package model

import (
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/table/journal"
	"boardhand/internal/table/places"
	"boardhand/internal/unit"
)

func square(name string) chess.Square {
	return chess.SquareAt(int(name[0]-'a'), int(name[1]-'1'))
}

// begun is a model of a position with Black as the machine.
func begun(t *testing.T, fen string, past journal.Past) *Model {
	t.Helper()
	pos, err := chess.ParseFEN(fen)
	if err != nil {
		t.Fatal(err)
	}
	past.Game = chess.NewGame(pos)
	return NewModel(Machine{Side: chess.Black, Carried: [2]bool{chess.Black: true}, Layout: places.Layout{Square: unit.MM(40)}}, past)
}

func move(t *testing.T, b *Model, text string) chess.Move {
	t.Helper()
	pos := b.Game.Position()
	m, err := pos.ParseUCI(text)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// A piece that the guest takes goes where the guest was told to stand it, with its name;
// also where the session that told it has ended since.
func TestSettleTakesAPieceToTheSlotOffered(t *testing.T) {
	kept, err := places.ParseStanding("4k3/8/8/3p4/4P3/8/8/4K3 offered@slot3")
	if err != nil {
		t.Fatal(err)
	}
	b := begun(t, "4k3/8/8/3p4/4P3/8/8/4K3 w - - 0 1", journal.Past{Standing: &kept})
	b.Settle(move(t, b, "e4d5"))
	if got := b.Now.String(); got != "4k3/8/8/3P4/8/8/8/4K3 p@slot3" {
		t.Errorf("the pieces stand as %s", got)
	}
	if b.Names.Of(places.Place(square("d5"))) != "e4" || b.Names.Of(places.Slot+2) != "d5" || b.Now.Offered != 0 {
		t.Errorf("they are called %v; a slot is still offered: %v", b.Names, b.Now.Offered)
	}
}

// After a break the board is kept as the move under way has left it, and as the
// game says otherwise.
func TestModelOfAMoveUnderWay(t *testing.T) {
	const fen = "4k3/8/8/3p4/4P3/8/8/4K3 b - - 0 1"
	for kept, want := range map[string]string{
		"4k3/8/8/3p4/8/8/8/4K3 P@person": "4k3/8/8/3p4/8/8/8/4K3 P@person", // e4 was cleared for d5e4
		"4k3/8/8/8/8/8/8/4K3 P@person":   "4k3/8/8/8/8/8/8/4K3 P@person",
		"8/4k3/8/3p4/4P3/8/8/4K3":        "4k3/8/8/3p4/4P3/8/8/4K3", // the king has no part in it
	} {
		s, err := places.ParseStanding(kept)
		if err != nil {
			t.Fatal(err)
		}
		m := move(t, begun(t, fen, journal.Past{}), "d5e4")
		if got := begun(t, fen, journal.Past{Decided: m, Standing: &s}).Now.String(); got != want {
			t.Errorf("kept as %s it is %s", kept, got)
		}
	}
}

// The scene has no magnet in a piece that it is useless to carry.
func TestSceneLeavesUselessPiecesAlone(t *testing.T) {
	b := begun(t, "4k3/8/8/3p4/4P3/8/8/4K3 b - - 0 1", journal.Past{})
	for _, m := range b.Scene(func(name string) bool { return name == "d5" }).Pieces {
		if want := m.Square == square("e8"); m.Magnet != want {
			t.Errorf("the %v on %v is carried: %v", m.Piece, m.Square, m.Magnet)
		}
	}
}

// A piece that slipped is at its square again by name, with its way.
func TestSlippedGoesBackToItsSquare(t *testing.T) {
	b := begun(t, "4k3/8/8/3p4/4P3/8/8/4K3 b - - 0 1", journal.Past{})
	b.Decided = move(t, b, "d5d4")
	pawn := chess.MakePiece(chess.Black, chess.Pawn)
	b.Move(pawn, places.Place(square("d5")), places.Place(square("d4")))
	w := b.Slipped()
	if want := (places.Way{Piece: pawn, From: places.Place(square("d5")), To: places.Place(square("d4"))}); w != want {
		t.Errorf("it was on its way %v", w)
	}
	if b.Now.Board[square("d5")] != pawn || b.Names.Of(w.From) != "d5" {
		t.Errorf("it stands on %s, called %s", b.BoardFEN(), b.Names.Of(w.From))
	}
}
