// SPDX-License-Identifier: Apache-2.0

package twin

import (
	"testing"

	"boardhand/internal/chess"
)

// Acts asked for in one breath are done one after the other: a capture, a
// recapture with the piece that has just arrived, castling, a promotion.
func TestVisitorsActsQueue(t *testing.T) {
	sq := func(name string) chess.Square { return chess.SquareAt(int(name[0]-'a'), int(name[1]-'1')) }
	w, err := New(small(), Options{Seed: 2, Visitor: true, FEN: "4k3/4P3/8/3p4/4P3/8/8/4K2R w K - 0 1"})
	must(t, err)
	v := w.Visitor()
	must(t, v.MovePiece(sq("e4"), sq("d5")))
	must(t, v.MovePiece(sq("d5"), sq("d6")))
	must(t, v.MovePiece(sq("e1"), sq("g1")))
	must(t, v.MovePiece(sq("h1"), sq("f1")))
	must(t, v.MovePiece(sq("e8"), sq("d7")))
	must(t, v.MovePiece(sq("e7"), chess.NoSquare))
	must(t, v.PutPiece(chess.MakePiece(chess.White, chess.Queen), sq("e8")))
	if err := v.MovePiece(sq("e4"), sq("e5")); err == nil {
		t.Error("moved a piece that will have gone from there")
	}
	if err := v.MovePiece(sq("e1"), sq("e2")); err == nil {
		t.Error("moved a king that will have castled")
	}
	if !v.Busy() {
		t.Error("not busy")
	}
	for n := 0; v.Busy(); n++ {
		if n > 100 {
			t.Fatal("the hand does not go away")
		}
		looks(t, w)
	}
	want, err := chess.ParseFEN("4Q3/3k4/3P4/8/8/8/8/5RK1 b - - 0 1")
	must(t, err)
	checkBoard(t, w, want)
	if err := v.MovePiece(sq("e4"), sq("e5")); err == nil {
		t.Error("moved nobody")
	}
	start := chess.Start()
	must(t, v.Arrange(start.FEN()))
	must(t, v.MovePiece(sq("e2"), sq("e4")))
	v.Finish()
	checkBoard(t, w, start.After(chess.MakeMove(sq("e2"), sq("e4"), chess.NoKind)))
	if v.Busy() {
		t.Error("still busy")
	}
}
