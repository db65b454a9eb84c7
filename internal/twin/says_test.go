// SPDX-License-Identifier: Apache-2.0

package twin

import (
	"context"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/notice"
	"boardhand/internal/rig"
	"boardhand/internal/twin/person"
	"boardhand/internal/twin/physics"
	"boardhand/internal/unit"
)

// said takes what the guest says and fails when it is something else.
func said(t *testing.T, w *World, want *person.Saying) {
	t.Helper()
	got, ok := w.Guest().Says()
	switch {
	case want == nil && ok:
		t.Errorf("said %+v", got)
	case want != nil && !ok:
		t.Errorf("said nothing, want %+v", *want)
	case want != nil && got != *want:
		t.Errorf("said %+v, want %+v", got, *want)
	}
	if got, ok := w.Guest().Says(); ok {
		t.Errorf("said twice: %+v", got)
	}
}

// A machine that does not see a legal move hears of it at the second
// complaint; at the third the guest gives way.
func TestGuestSaysWhatWasPlayed(t *testing.T) {
	w, err := New(small(), Options{Seed: 3})
	must(t, err)
	start := chess.Start()
	tell(t, w, notice.Notice{Kind: notice.YourMove, FEN: start.FEN()})
	looks(t, w)
	m := w.Truth().Guest
	after := start.After(m)
	complain := notice.Notice{Kind: notice.PleaseMend, FEN: start.FEN(), Squares: []chess.Square{m.To()}}
	tell(t, w, complain)
	looks(t, w)
	checkBoard(t, w, after)
	said(t, w, nil)
	tell(t, w, complain)
	looks(t, w)
	checkBoard(t, w, after)
	said(t, w, &person.Saying{Kind: person.SaysPlayed, Move: m})
	tell(t, w, complain)
	looks(t, w)
	checkBoard(t, w, start)
	tell(t, w, notice.Notice{Kind: notice.YourMove, FEN: start.FEN()})
	looks(t, w)
	if m = w.Truth().Guest; !start.Legal(m) {
		t.Errorf("then played %v", m)
	}
	checkBoard(t, w, start.After(m))
}

// A guest whose move stands there names it when nothing comes of it for long, and
// again; while the machine is at work they wait.
func TestGuestTiresOfWaiting(t *testing.T) {
	w, err := New(small(), Options{Seed: 3})
	must(t, err)
	start := chess.Start()
	tell(t, w, notice.Notice{Kind: notice.YourMove, FEN: start.FEN()})
	looks(t, w)
	m := w.Truth().Guest
	for heard := range 2 { // the second look for a saying counts as a picture too
		for range person.Patience - 1 - heard {
			if s, ok := w.Guest().Says(); ok {
				t.Fatalf("said %+v too early", s)
			}
		}
		said(t, w, &person.Saying{Kind: person.SaysPlayed, Move: m})
	}
	tell(t, w, notice.Notice{Kind: notice.Wait})
	for range 2 * person.Patience {
		if s, ok := w.Guest().Says(); ok {
			t.Fatalf("said %+v while the machine is at work", s)
		}
	}
}

// A move that is to be taken back is set back at once.
func TestGuestTakesBackWithoutAWord(t *testing.T) {
	w, err := New(small(), Options{Seed: 3})
	must(t, err)
	start := chess.Start()
	tell(t, w, yourMove)
	looks(t, w)
	tell(t, w, notice.Notice{Kind: notice.TakingBack})
	tell(t, w, notice.Notice{Kind: notice.PleaseMend, FEN: start.FEN()})
	looks(t, w)
	checkBoard(t, w, start)
	said(t, w, nil)
}

// An unfounded request is answered at the second time, whatever it asks for.
func TestGuestSaysThatItIsRight(t *testing.T) {
	const fen = "4k3/8/8/3r4/8/8/8/4K2R b - - 0 1"
	rook, d5, c4 := chess.MakePiece(chess.Black, chess.Rook), chess.SquareAt(3, 4), chess.SquareAt(2, 3)
	for name, n := range map[string]notice.Notice{
		"take":       {Kind: notice.PleaseTake, Squares: []chess.Square{c4}},
		"put":        {Kind: notice.PleasePut, Squares: []chess.Square{d5}, Piece: rook},
		"mend":       {Kind: notice.PleaseMend, FEN: fen, Squares: []chess.Square{c4}},
		"straighten": {Kind: notice.PleaseMend, Squares: []chess.Square{d5}},
		"one act":    {Kind: notice.PleaseMend, Acts: []notice.Act{{Piece: rook, From: c4, To: d5}}},
	} {
		t.Run(name, func(t *testing.T) {
			q, err := NoDeviations(small())
			must(t, err)
			w, err := New(small(), Options{Seed: 3, Deviations: &q, FEN: fen})
			must(t, err)
			p, err := chess.ParseFEN(fen)
			must(t, err)
			for _, want := range []*person.Saying{nil, {Kind: person.SaysRight}, nil, {Kind: person.SaysRight}} {
				tell(t, w, n)
				looks(t, w)
				checkBoard(t, w, p)
				said(t, w, want)
			}
			w.person.Owes = true // it is the guest's turn, and nothing was played
			tell(t, w, n)
			tell(t, w, n)
			said(t, w, &person.Saying{Kind: person.SaysPlayed})
		})
	}
}

// A request that has something to it is done, and nothing is said.
func TestGuestDoesBeforeTalking(t *testing.T) {
	w, err := New(small(), Options{Seed: 3, FEN: kings})
	must(t, err)
	d5 := chess.SquareAt(3, 4)
	n := notice.Notice{Kind: notice.PleaseTake, Squares: []chess.Square{d5}}
	tell(t, w, n)
	tell(t, w, n) // asked again while the hand is at it
	looks(t, w)
	said(t, w, nil)
	if b := w.find("d5"); b != nil {
		t.Errorf("%v is still there", b.Piece)
	}
	tell(t, w, n)
	tell(t, w, n)
	said(t, w, &person.Saying{Kind: person.SaysRight})
}

// tray is a small rig whose pieces all carry magnets, with a tray.
func trayRig() *rig.Rig {
	r := small()
	r.Pieces.Carried, r.Removal.Mode = "both", "tray"
	r.Walls.Left, r.Walls.Right = unit.MM(240), unit.MM(240)
	return r
}

// A piece that lies on the rim is picked up and stood in the slot, from
// beside the board when it is nowhere; one that stands there wrongly goes.
func TestGuestFillsASlot(t *testing.T) {
	const fen = "4k3/8/8/8/8/8/8/4K3 w - - 0 1"
	queen, rook := chess.MakePiece(chess.Black, chess.Queen), chess.MakePiece(chess.White, chess.Rook)
	pos, err := chess.ParseFEN(fen)
	must(t, err)
	for name, kind := range map[string]notice.Kind{"mend": notice.PleaseMend, "put": notice.PleasePut} {
		for _, lies := range []bool{true, false} {
			w, err := New(trayRig(), Options{Seed: 2, FEN: fen})
			must(t, err)
			slot := w.table.Slots()[3]
			if lies {
				w.setAside([]Aside{{Piece: queen, At: &spot{X: 0.175, Y: 0.02}}, {Piece: rook, At: &slot}})
				w.table.Pieces[2].Fallen = true
			}
			n := notice.Notice{Kind: kind, Slot: &slot, Acts: []notice.Act{{Piece: queen, From: chess.NoSquare, To: chess.NoSquare}}}
			if kind == notice.PleaseMend {
				n.FEN = fen
			}
			tell(t, w, n)
			looks(t, w)
			checkBoard(t, w, pos)
			if b := w.near(slot); b == nil || b.Piece != queen || b.Fallen {
				t.Errorf("%s, lies %v: the slot holds %+v", name, lies, b)
			}
			for _, m := range w.Truth().Pieces {
				if m.OnBoard && m.Square == chess.NoSquare && m.Piece != queen {
					t.Errorf("%s, lies %v: %v was left at %v", name, lies, m.Piece, m.At)
				}
			}
			tell(t, w, n)
			tell(t, w, n)
			said(t, w, &person.Saying{Kind: person.SaysRight})
		}
	}
}

// A piece that lies in its slot is stood up with the rest.
func TestGuestPicksUpInTheTray(t *testing.T) {
	const fen = "4k3/8/8/8/8/8/8/4K3 w - - 0 1"
	w, err := New(trayRig(), Options{Seed: 2, FEN: fen})
	must(t, err)
	w.setAside([]Aside{{Piece: chess.MakePiece(chess.Black, chess.Queen), At: &w.table.Slots()[5]}})
	w.table.Pieces[2].Fallen = true
	tell(t, w, notice.Notice{Kind: notice.PleaseMend, FEN: fen})
	looks(t, w)
	if b := w.table.Pieces[2]; b.Fallen || b.At.Distance(w.table.Slots()[5]) > 0.001 {
		t.Errorf("fallen %v at %v", b.Fallen, b.At)
	}
}

// Questions are answered by what was played: the right one, nothing, or none
// of these.
func TestGuestAnswersNoneOfThese(t *testing.T) {
	w, err := New(small(), Options{Seed: 3})
	must(t, err)
	tell(t, w, yourMove)
	looks(t, w)
	other := chess.MakeMove(1, 18, 0)
	if other == w.Truth().Guest {
		other = chess.MakeMove(6, 21, 0)
	}
	i, err := w.Guest().Ask(context.Background(), notice.Question{Choices: []string{"a", "nothing", "none of these"}, Moves: []chess.Move{other, 0, 0}})
	must(t, err)
	if i != 2 {
		t.Errorf("answered %d, want 2: neither that move nor nothing", i)
	}
}

// A piece that was lost beside the board is stood back on its square; the one
// that lies in the way there is taken off.
func TestGuestBringsAStrayBack(t *testing.T) {
	const fen = "4k3/8/8/3r4/8/8/8/4K3 b - - 0 1"
	rook, d5 := chess.MakePiece(chess.Black, chess.Rook), chess.SquareAt(3, 4)
	pos, err := chess.ParseFEN(fen)
	must(t, err)
	w, err := New(trayRig(), Options{Seed: 2, FEN: fen})
	must(t, err)
	b := w.find("d5")
	b.At, b.Fallen = spot{X: 0.178, Y: -0.02}, true
	tell(t, w, notice.Notice{Kind: notice.PleaseMend, FEN: fen, Acts: []notice.Act{{Piece: rook, From: chess.NoSquare, To: d5}}})
	looks(t, w)
	checkBoard(t, w, pos)
	if b.Place != physics.OnBoard || b.Fallen || w.table.Square(b) != d5 {
		t.Errorf("the rook: place %v, fallen %v, at %v", b.Place, b.Fallen, b.At)
	}
	b.At = spot{X: 0.178, Y: -0.02} // and without a position
	tell(t, w, notice.Notice{Kind: notice.PleaseMend, Acts: []notice.Act{{Piece: rook, From: chess.NoSquare, To: d5}}})
	looks(t, w)
	checkBoard(t, w, pos)
	if n := len(w.table.Pieces); n != 3 {
		t.Errorf("%d pieces: a spare one was used although the rook lay there", n)
	}
}

// Told of a hand over the board where none is, the guest asks for a look afresh; with the
// hand at work they say nothing.
func TestNoHandIsThere(t *testing.T) {
	w, err := New(small(), Options{Seed: 3})
	must(t, err)
	hand := notice.Notice{Kind: notice.HandSeen, Text: "I see a hand over the board."}
	tell(t, w, hand)
	said(t, w, &person.Saying{Kind: person.SaysAfresh})
	start := chess.Start()
	tell(t, w, notice.Notice{Kind: notice.YourMove, FEN: start.FEN()}) // and a move is begun
	tell(t, w, hand)
	said(t, w, nil)
}
