// SPDX-License-Identifier: Apache-2.0

package twin

import (
	"context"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/notice"
	"boardhand/internal/twin/physics"
)

// strokesOf runs the carriage to and fro with the magnet up, far from all
// pieces, and returns how often a hand was over the board meanwhile.
func strokesOf(t *testing.T, w *World, n int) (hands int) {
	t.Helper()
	ctx := context.Background()
	_, err := w.Gantry().Home(ctx)
	must(t, err)
	must(t, stroke(t, w, 0.1, 0.4, w.on("a4")))
	must(t, w.Gantry().Lift(ctx, true))
	for i := range n {
		to := w.on("a5")
		if i%2 == 1 {
			to = w.on("a4")
		}
		must(t, stroke(t, w, 0.1, 0.4, to))
		if w.person.Hand().IsOut {
			hands++
		}
		looks(t, w)
	}
	must(t, w.Gantry().Lift(ctx, false))
	return hands
}

func TestEarlyGuestReachesIn(t *testing.T) {
	reach := func(seed int64, faults ...Fault) (hands, early int) {
		w, err := New(small(), Options{Seed: seed, FEN: "4k3/pppppppp/8/8/8/8/PPPPPPPP/4K3 b - - 0 1", Faults: faults})
		must(t, err)
		hands = strokesOf(t, w, 20)
		if w.person.Memory().Early != 0 {
			early++
		}
		return hands, early
	}
	hands, early := 0, 0
	for seed := int64(1); seed <= 6; seed++ {
		h, e := reach(seed, EarlyGuest)
		hands, early = hands+h, early+e
		if h, e := reach(seed); h+e > 0 {
			t.Errorf("seed %d: a hand without the fault", seed)
		}
	}
	if hands < 4 || hands > 60 || early == 0 {
		t.Errorf("of 120 strokes %d saw a hand, of 6 guests %d played early", hands, early)
	}
}

// A move made early counts when it is legal after the machine's, and is put
// back when it is not.
func TestEarlyMove(t *testing.T) {
	for name, c := range map[string]struct {
		fen, machine string
		counts       bool
	}{
		"still legal":   {"r3k3/8/8/8/8/8/P7/7K b - - 0 1", "e8e7", true},
		"in check now":  {"1r2k3/8/8/8/8/8/P7/7K b - - 0 1", "b8b1", false},
		"occupied then": {"r3k3/8/8/8/8/8/P7/7K b - - 0 1", "a8a3", false},
	} {
		t.Run(name, func(t *testing.T) {
			pos, err := chess.ParseFEN(c.fen)
			must(t, err)
			w, err := New(small(), Options{Seed: 4, FEN: pos.FEN()})
			must(t, err)
			early := chess.MakeMove(chess.SquareAt(0, 1), chess.SquareAt(0, 2), chess.NoKind)
			must(t, w.Visitor().MovePiece(early.From(), early.To()))
			looks(t, w)
			known := w.person.Memory()
			known.Early = early
			w.person.Remember(known, nil, pos)
			m, err := pos.ParseUCI(c.machine)
			must(t, err)
			if m.To() != early.To() {
				must(t, w.Visitor().MovePiece(m.From(), m.To()))
				looks(t, w)
			}
			tell(t, w, notice.Notice{Kind: notice.YourMove, Move: m})
			looks(t, w)
			if got := w.Truth().Guest == early && w.person.Memory().Last == early; got != c.counts {
				t.Errorf("the early move counts: %v", got)
			}
			after := pos.After(m)
			if c.counts {
				checkBoard(t, w, after.After(early))
			}
		})
	}
}

func TestSlotThief(t *testing.T) {
	const fen = "4k3/pppppppp/8/8/8/8/PPPPPPPP/4K3 w - - 0 1"
	queen, rook := chess.MakePiece(chess.Black, chess.Queen), chess.MakePiece(chess.White, chess.Rook)
	turns := func(seed int64, faults ...Fault) (out, swapped bool) {
		w, err := New(trayRig(), Options{Seed: seed, FEN: fen, Faults: faults})
		must(t, err)
		w.setAside([]Aside{{Piece: queen, At: &w.table.Slots()[2]}, {Piece: rook, At: &w.table.Slots()[20]}})
		last := len(w.table.Pieces)
		for range 8 {
			w.person.Owes = false
			tell(t, w, notice.Notice{Kind: notice.YourMove, FEN: fen})
			looks(t, w)
		}
		for i, b := range w.table.Pieces[last-2:] {
			home := w.table.Slots()[[2]int{2, 20}[i]]
			switch {
			case b.Place == physics.Beside:
				out = true
			case b.At.Distance(home) > 0.01:
				swapped = swapped || w.table.IsTrayed(b)
			}
		}
		return out, swapped
	}
	outs, swaps := 0, 0
	for seed := int64(1); seed <= 10; seed++ {
		out, swapped := turns(seed, SlotThief)
		if out {
			outs++
		}
		if swapped {
			swaps++
		}
		if out, swapped := turns(seed); out || swapped {
			t.Errorf("seed %d: a piece left its slot without the fault", seed)
		}
	}
	if outs == 0 || swaps == 0 || outs+swaps > 18 {
		t.Errorf("of 10 guests %d took a piece out, %d stood one elsewhere", outs, swaps)
	}
}
