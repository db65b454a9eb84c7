// SPDX-License-Identifier: Apache-2.0

package host

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"runtime"
	"slices"
	"strings"
	"testing"

	"boardhand/internal/carry/plan"
	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/notice"
	"boardhand/internal/table/places"
	"boardhand/internal/web"
)

func sq(name string) chess.Square {
	q, err := SquareOf(name)
	if err != nil {
		panic(err)
	}
	return q
}

func positionOf(t *testing.T, fen string) chess.Position {
	t.Helper()
	pos, err := chess.ParseFEN(fen)
	if err != nil {
		t.Fatal(err)
	}
	return pos
}

// besideWords prints who is beside the board: "p@person Q@slot3".
func besideWords(all []places.Beside) string {
	var out []string
	for _, b := range all {
		out = append(out, fmt.Sprintf("%c@%v", b.Piece.Letter(), b.Place))
	}
	slices.Sort(out)
	return strings.Join(out, " ")
}

func TestTheHandIsKnownUntilTheTableAgrees(t *testing.T) {
	before := positionOf(t, "4k3/8/8/3p4/4P3/8/8/4K3 w - - 0 1")
	s := places.StandingOf(before)
	h := newHand()
	if err := h.move(s, sq("a1"), sq("a2")); err == nil || err.Error() != "no piece stands on a1" {
		t.Errorf("from an empty square: %v", err)
	}
	if err := h.move(s, sq("e4"), sq("d5")); err != nil {
		t.Fatal(err)
	}
	is := h.standing(s)
	if is.Board[sq("e4")] != chess.NoPiece || is.Board[sq("d5")].Letter() != 'P' || besideWords(is.Beside) != "p@person" {
		t.Errorf("after exd5 by hand: %v", is)
	}
	m, err := before.ParseUCI("e4d5")
	if err != nil {
		t.Fatal(err)
	}
	after := places.StandingOf(before.After(m))
	after.Beside = is.Beside
	h.agree(after)
	if len(h.squares) != 0 || h.standing(after).String() != after.String() {
		t.Errorf("the table has seen it, but %v are still open", h.squares)
	}
}

// The table finds the move in pictures from before the hand set everything
// back: what the hand does last is what stands there.
func TestTheHandOutlastsWhatIsFoundMeanwhile(t *testing.T) {
	before := positionOf(t, "4k3/8/8/3pP3/8/8/8/4K3 w - d6 0 1")
	s := places.StandingOf(before)
	h := newHand()
	if err := errors.Join(h.move(s, sq("e5"), sq("d6")), h.move(s, sq("d5"), chess.NoSquare)); err != nil {
		t.Fatal(err)
	}
	h.atWork = true
	h.arrange(s, s.Board)
	m, err := before.ParseUCI("e5d6")
	if err != nil {
		t.Fatal(err)
	}
	found := places.StandingOf(before.After(m))
	h.agree(found)
	h.rest(found)
	if got := h.board(found); got != s.Board {
		t.Errorf("the hand has set %v, shown is %v", s.Board, got)
	}
	h.agree(s) // the table sees it
	if len(h.squares) != 0 {
		t.Errorf("the table has seen it, but %v are still open", h.squares)
	}
}

// The hand takes a piece off, and before anybody has noticed that it is gone the
// carriage has brought another one there: that one stands there.
func TestWhatIsCarriedOutlastsTheHandThatMadeRoom(t *testing.T) {
	before := positionOf(t, "3qk3/8/8/3P4/8/8/8/4K3 b - - 0 1")
	s := places.StandingOf(before)
	h := newHand()
	if err := h.move(s, sq("d5"), chess.NoSquare); err != nil {
		t.Fatal(err)
	}
	h.atWork = true
	m, err := before.ParseUCI("d8d5")
	if err != nil {
		t.Fatal(err)
	}
	empty := s.Clone()
	empty.Board[sq("d5")] = chess.NoPiece
	h.agree(empty)
	h.yield(sq("d5"))
	if got := h.board(empty); got != empty.Board {
		t.Errorf("while it is carried %v stands there", got)
	}
	after := places.StandingOf(before.After(m))
	h.agree(after)
	h.rest(after)
	if got := h.board(after); got != after.Board {
		t.Errorf("the queen was carried to d5, shown is %v", got)
	}
	h.set(after, sq("d5"), after.Board[sq("e1")])
	h.yield(sq("d5"))
	if len(h.squares) != 1 {
		t.Error("a piece that the hand put there is forgotten")
	}
}

// The hand has set a piece back, and the carriage, which was to carry it, fetches it from
// there: it stands there no more.
func TestWhatIsFetchedIsNotWhereTheHandPutIt(t *testing.T) {
	const after = "4k3/8/8/3P4/8/8/8/4K3 b - - 0 1" // e4 has taken on d5
	h, _ := visitorHost(t)
	h.at(positionOf(t, "4k3/8/8/3p4/4P3/8/8/4K3 w - - 0 1"))
	pawn := h.standing.Board[sq("e4")]
	h.byHand(t, "e4d5")
	h.hand.atWork = true
	h.hand.arrange(h.standing, h.standing.Board)
	h.standing = places.StandingOf(positionOf(t, after))
	h.hand.rest(h.standing)
	h.standing.Board[sq("d5")] = chess.NoPiece
	fetch := plan.Step{Do: plan.Carry, Piece: pawn, From: chess.NoSquare, To: chess.NoSquare,
		PiecePath: []frame.Spot[frame.Board]{h.o.Rig.Board.Centre(4, 3).Add(frame.Spot[frame.Board]{X: 0.012, Y: -0.009}), {X: 0.2}}}
	h.step(fetch)
	if got := h.hand.board(h.standing)[sq("e4")]; got != chess.NoPiece {
		t.Errorf("the pawn was fetched from e4, shown there is %v", got)
	}
}

// refusing is a hand that cannot do what begins on one square.
type refusing struct{ from chess.Square }

func (r refusing) MovePiece(from, _ chess.Square) error {
	if from == r.from {
		return fmt.Errorf("no piece stands on %v", from)
	}
	return nil
}
func (refusing) PutPiece(chess.Piece, chess.Square) error { return nil }
func (refusing) Arrange(string) error                     { return nil }
func (refusing) Busy() bool                               { return false }

// The carriage has taken the piece that the hand was to take: what the hand had done
// before it stays done, and what was to come after it is not.
func TestAnActThatFailsLeavesThoseBeforeIt(t *testing.T) {
	h, _ := visitorHost(t)
	h.Publish = func(web.Event) {}
	h.o.Fingers = refusing{sq("b2")}
	h.mu.Lock()
	for _, a := range [][2]string{{"g7", "g5"}, {"b2", "b4"}, {"h2", "h4"}} {
		if err := h.begin(notice.Act{From: sq(a[0]), To: sq(a[1])}, nil); err != nil {
			t.Error(err)
		}
	}
	h.mu.Unlock()
	for h.IsBusy() {
		runtime.Gosched()
	}
	want := chess.Start()
	b := places.StandingOf(want).Board
	b[sq("g5")], b[sq("g7")] = b[sq("g7")], chess.NoPiece
	if got := h.hand.board(h.standing); got != b {
		t.Errorf("shown is %v", places.Standing{Board: got})
	}
	if got := len(h.phantoms()); got != 1 {
		t.Errorf("%d pieces stand elsewhere than the game has them, want 1", got)
	}
}

// What was asked for and has been done is not put back with what is astray.
func TestOnlyWhatIsAstrayIsPutBack(t *testing.T) {
	s := places.StandingOf(positionOf(t, "4k3/8/3P4/8/8/8/8/4K3 b - - 0 1"))
	pawn, _ := chess.PieceLettered("P")
	knight, _ := chess.PieceLettered("n")
	asked := []notice.Act{{Piece: pawn, From: sq("d6"), To: chess.NoSquare}}
	now := s.Board
	now[sq("a3")] = knight
	if got := withDone(s.Board, now, asked); got != s.Board {
		t.Errorf("nothing asked is done, but %v is wanted", got)
	}
	now[sq("d6")] = chess.NoPiece
	want := s.Board
	want[sq("d6")] = chess.NoPiece
	if got := withDone(s.Board, now, asked); got != want {
		t.Errorf("the pawn is off and stays off, but %v is wanted", got)
	}
}

func TestWhatIsPutBackIsForgotten(t *testing.T) {
	s := places.StandingOf(chess.Start())
	h := newHand()
	for _, m := range [][2]string{{"a1", "a5"}, {"a5", "c6"}, {"d8", "off"}} {
		if err := h.move(s, sq(m[0]), sq(m[1])); err != nil {
			t.Fatal(err)
		}
	}
	if got := besideWords(h.standing(s).Beside); got != "q@person" {
		t.Errorf("beside the board: %s", got)
	}
	queen, _ := chess.PieceLettered("q")
	h.put(s, queen, sq("d8"))
	if err := h.move(s, sq("c6"), sq("a1")); err != nil {
		t.Fatal(err)
	}
	if len(h.squares) != 0 || len(h.standing(s).Beside) != 0 {
		t.Errorf("all is as it was, but %v differ", h.squares)
	}
}

func TestAPieceTakenGoesIntoTheSlotOffered(t *testing.T) {
	s := places.StandingOf(positionOf(t, "4k3/8/8/3p4/4P3/8/8/4K3 w - - 0 1"))
	h := newHand()
	h.offer = places.Slot + 2
	if err := h.move(s, sq("e4"), sq("d5")); err != nil {
		t.Fatal(err)
	}
	if got := besideWords(h.standing(s).Beside); got != "p@slot3" {
		t.Errorf("beside the board: %s", got)
	}
}

func TestAQueenComesFromBesideTheBoard(t *testing.T) {
	s := places.StandingOf(positionOf(t, "4k3/P7/8/8/8/8/8/4K3 w - - 0 1"))
	queen, _ := chess.PieceLettered("Q")
	s.Beside = []places.Beside{{Piece: queen, Place: places.Person}}
	h := newHand()
	if err := h.move(s, sq("a7"), sq("a8")); err != nil {
		t.Fatal(err)
	}
	h.put(s, queen, sq("a8"))
	if is := h.standing(s); is.Board[sq("a8")] != queen || besideWords(is.Beside) != "P@person" {
		t.Errorf("got %v", is)
	}
}

// Whatever a hand does, doing the acts from one board to another leads there.
func TestActsLeadFromBoardToBoard(t *testing.T) {
	seed := rand.Uint64()
	chance := rand.New(rand.NewPCG(seed, 1))
	for range 2000 {
		from := places.StandingOf(chess.Start()).Board
		to := from
		for range chance.IntN(6) {
			a, b := chance.IntN(64), chance.IntN(64)
			to[a], to[b] = to[b], to[a]
		}
		for range chance.IntN(3) {
			to[chance.IntN(64)] = chess.NoPiece
		}
		for _, way := range [][2]board{{from, to}, {to, from}} {
			now := way[0]
			for _, a := range Acts(way[0], way[1]) {
				if a.From < chess.NoSquare {
					if way[0][a.From] != a.Piece {
						t.Fatalf("seed %d: %v does not stand on %s", seed, a.Piece, a.From)
					}
					now[a.From] = chess.NoPiece
				}
			}
			for _, a := range Acts(way[0], way[1]) {
				if a.To < chess.NoSquare {
					now[a.To] = a.Piece
				}
			}
			if now != way[1] {
				t.Fatalf("seed %d: the acts %v do not lead there", seed, Acts(way[0], way[1]))
			}
		}
	}
}
