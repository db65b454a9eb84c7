// SPDX-License-Identifier: Apache-2.0

package twin

import (
	"context"
	"math/rand/v2"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/notice"
	"boardhand/internal/rig"
)

// small is the default rig with a small picture, for tests that look often.
func small() *rig.Rig {
	r := rig.Default()
	r.Camera.Image = [2]int{160, 90}
	return r
}

var yourMove = notice.Notice{Kind: notice.YourMove}

func tell(t testing.TB, w *World, n notice.Notice) {
	t.Helper()
	must(t, w.Guest().Tell(context.Background(), n))
}

// looks takes pictures until the hand has gone.
func looks(t testing.TB, w *World) (n int) {
	t.Helper()
	for n = 0; n < 3 || w.Visitor().Busy(); n++ {
		if n > 40 {
			t.Fatal("the hand does not go away")
		}
		_, err := w.Camera().Look(context.Background())
		must(t, err)
	}
	return n
}

// byHand makes the machine's move for it, as a visitor would.
func byHand(t testing.TB, w *World, p chess.Position, m chess.Move) {
	t.Helper()
	v := w.Visitor()
	if _, at := p.Captured(m); at != chess.NoSquare && at != m.To() {
		must(t, v.MovePiece(at, chess.NoSquare))
	}
	looks(t, w)
	must(t, v.MovePiece(m.From(), m.To()))
	if p.IsCastling(m) {
		from, to := p.RookMove(m)
		must(t, v.MovePiece(from, to))
	}
	looks(t, w)
	if k := m.Promotion(); k != chess.NoKind {
		tell(t, w, notice.Notice{Kind: notice.PleasePut, Piece: chess.MakePiece(p.SideToMove(), k), Squares: []chess.Square{m.To()}})
	}
	looks(t, w)
}

func checkBoard(t testing.TB, w *World, p chess.Position) {
	t.Helper()
	got := w.Truth().Squares
	for s := chess.Square(0); s < chess.NoSquare; s++ {
		if got[s] != p.At(s) {
			t.Fatalf("%v holds %v, the game says %v (%s)", s, got[s], p.At(s), p.FEN())
		}
	}
}

// Whole games: whatever the guest plays, the pieces stand as the rules say.
func TestGuestPlaysGames(t *testing.T) {
	var seen struct{ captures, castlings, promotions, passants int }
	for seed := int64(1); seed <= 3; seed++ {
		w, err := New(small(), Options{Seed: seed})
		must(t, err)
		chance := rand.New(rand.NewPCG(uint64(seed), 77))
		p, last := chess.Start(), chess.Move(0)
		for range 60 {
			if len(p.LegalMoves(nil)) == 0 {
				break
			}
			tell(t, w, notice.Notice{Kind: notice.YourMove, Move: last, FEN: p.FEN()})
			looks(t, w)
			m := w.Truth().Guest
			if !p.Legal(m) {
				t.Fatalf("seed %d: the guest played %v in %s", seed, m, p.FEN())
			}
			_, at := p.Captured(m)
			switch {
			case at != chess.NoSquare && at != m.To():
				seen.passants++
			case at != chess.NoSquare:
				seen.captures++
			case p.IsCastling(m):
				seen.castlings++
			}
			if m.Promotion() != 0 {
				seen.promotions++
			}
			p = p.After(m)
			checkBoard(t, w, p)
			moves := p.LegalMoves(nil)
			if len(moves) == 0 {
				break
			}
			last = moves[chance.IntN(len(moves))]
			byHand(t, w, p, last)
			p = p.After(last)
			checkBoard(t, w, p)
		}
		if c := w.Truth().Counters; c.Collisions+c.Drags+c.Slips != 0 {
			t.Errorf("seed %d: hands counted as the machine's doing: %+v", seed, c)
		}
	}
	t.Logf("%+v", seen)
	if seen.captures == 0 || seen.castlings == 0 {
		t.Errorf("the games were too tame: %+v", seen)
	}
}

func TestGuestAnswersTruthfully(t *testing.T) {
	w, err := New(small(), Options{Seed: 3})
	must(t, err)
	tell(t, w, notice.Notice{Kind: notice.YourMove})
	looks(t, w)
	m := w.Truth().Guest
	other := chess.MakeMove(m.From(), m.From(), 0)
	ask := func(moves ...chess.Move) int {
		i, err := w.Guest().Ask(context.Background(), notice.Question{Choices: make([]string, len(moves)), Moves: moves})
		must(t, err)
		return i
	}
	if i := ask(other, m, 0); i != 1 {
		t.Errorf("answered %d, want 1", i)
	}
	if i := ask(other, 0); i != 1 {
		t.Errorf("answered %d to a question without the move, want the last", i)
	}
}

func TestGuestMendsTheBoard(t *testing.T) {
	w, err := New(small(), Options{Seed: 5, FEN: "4k3/8/8/3r4/8/5P2/8/4K2R w K - 0 1"})
	must(t, err)
	const want = "4k3/8/8/8/3r4/8/5P2/4K1QR b - - 0 1"
	w.table.Pieces[1].Fallen = true
	tell(t, w, notice.Notice{Kind: notice.PleaseMend, FEN: want})
	looks(t, w)
	p, err := chess.ParseFEN(want)
	must(t, err)
	checkBoard(t, w, p)
	for _, m := range w.Truth().Pieces {
		if m.Fallen {
			t.Errorf("%v was left lying", m.Piece)
		}
	}
}

// A guest who is asked while thinking has played nothing yet.
func TestGuestAskedTooEarly(t *testing.T) {
	w, err := New(small(), Options{Seed: 3})
	must(t, err)
	tell(t, w, yourMove)
	q := notice.Question{Choices: make([]string, 3), Moves: []chess.Move{chess.MakeMove(12, 28, 0), 0, 0}}
	i, err := w.Guest().Ask(context.Background(), q)
	must(t, err)
	if i != 1 {
		t.Errorf("answered %d, want 1: nothing", i)
	}
	checkBoard(t, w, chess.Start())
	looks(t, w)
	p := chess.Start()
	checkBoard(t, w, p.After(w.Truth().Guest))
}

func TestGuestStraightens(t *testing.T) {
	w, err := New(small(), Options{Seed: 3})
	must(t, err)
	b := w.find("e8")
	b.At = b.At.Add(spot{X: 0.012})
	tell(t, w, notice.Notice{Kind: notice.PleaseMend, Squares: []chess.Square{w.table.Square(b)}})
	looks(t, w)
	if d := b.At.Distance(w.on("e8")); d > 0.1*float64(w.rig.Board.Square) {
		t.Errorf("the king still stands %.1f mm off", d*1e3)
	}
}

func TestGuestTakesAndPuts(t *testing.T) {
	w, err := New(small(), Options{Seed: 6})
	must(t, err)
	e2 := chess.SquareAt(4, 1)
	tell(t, w, notice.Notice{Kind: notice.PleaseTake, Squares: []chess.Square{e2}})
	looks(t, w)
	if got := w.Truth().Squares[e2]; got != chess.NoPiece {
		t.Errorf("e2 still holds %v", got)
	}
	tell(t, w, notice.Notice{Kind: notice.PleasePut, Squares: []chess.Square{e2}, Piece: chess.MakePiece(chess.White, chess.Queen)})
	looks(t, w)
	if got := w.Truth().Squares[e2]; got != chess.MakePiece(chess.White, chess.Queen) {
		t.Errorf("e2 holds %v", got)
	}
}

// Asked to stand a piece in a slot, a person brings one that stands askew there
// to the middle.
func TestGuestBringsAPieceIntoItsSlot(t *testing.T) {
	r := small()
	r.Removal.Mode, r.Removal.Slots, r.Removal.Gap = "tray", 16, r.Board.Square
	pawn, side := chess.MakePiece(chess.White, chess.Pawn), float64(r.Board.Square)
	slot := r.Slots()[20]
	askew := slot.Add(frame.Spot[frame.Board]{X: -0.2 * side})
	w, err := New(r, Options{Seed: 6, Beside: []Aside{{Piece: pawn, At: &askew}}})
	must(t, err)
	tell(t, w, notice.Notice{Kind: notice.PleasePut, Slot: &slot, Piece: pawn})
	looks(t, w)
	pieces := w.Truth().Pieces
	if off := pieces[len(pieces)-1].At.Distance(slot); off > 0.15*side {
		t.Errorf("the pawn stands %.1f mm off the middle of its slot", off*1e3)
	}
}

// With every fault of the guest's on, a patient machine that has the board
// mended whenever it looks wrong still gets a legal move out of them.
func TestDifficultGuest(t *testing.T) {
	w, err := New(small(), Options{Seed: 8, Faults: []Fault{SloppyGuest, IllegalGuest, HalfMove}})
	must(t, err)
	p, last, mended := chess.Start(), chess.Move(0), 0
	for range 60 {
		moves := p.LegalMoves(nil)
		if len(moves) == 0 {
			break
		}
		tell(t, w, notice.Notice{Kind: notice.YourMove, Move: last, FEN: p.FEN()})
		looks(t, w)
		for w.person.Owes {
			if mended++; mended > 40 {
				t.Fatal("the guest never gets it right")
			}
			tell(t, w, notice.Notice{Kind: notice.PleaseMend, FEN: p.FEN()})
			looks(t, w)
			checkBoard(t, w, p)
			tell(t, w, notice.Notice{Kind: notice.YourMove, Move: last, FEN: p.FEN()})
			looks(t, w)
		}
		p = p.After(w.Truth().Guest)
		checkBoard(t, w, p)
		if moves = p.LegalMoves(nil); len(moves) == 0 {
			break
		}
		last = moves[len(moves)/2]
		byHand(t, w, p, last)
		p = p.After(last)
	}
	if mended == 0 {
		t.Error("no illegal move was made: the test proves nothing")
	}
}
