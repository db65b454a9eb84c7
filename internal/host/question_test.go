// SPDX-License-Identifier: Apache-2.0

package host

import (
	"context"
	"fmt"
	"net/http"
	"net/http/httptest"
	"strings"
	"sync"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/notice"
	"boardhand/internal/rig"
	"boardhand/internal/table"
	"boardhand/internal/table/journal"
	"boardhand/internal/table/places"
	"boardhand/internal/web"
)

// visitorHost is a host for a visitor, without a machine.
func visitorHost(t *testing.T) (*Host, *web.Server) {
	t.Helper()
	h := New(t.Context(), Options{Rig: rig.Default(), Seat: AtThePage, Tell: func(journal.State, string) {}})
	h.pos, h.state, h.machine = chess.Start(), journal.Guesting, chess.Black
	h.standing = places.StandingOf(h.pos)
	h.registry = newRegistry(h.o.Rig, h.standing)
	server := web.New(h)
	h.Publish, server.Requests = server.Publish, h
	return h, server
}

// Two phones answer every question at the same moment: the one answer counts,
// the other is refused and never reaches the next question.
func TestALateAnswerReachesNoOtherQuestion(t *testing.T) {
	h, server := visitorHost(t)
	srv := httptest.NewServer(server.Handler())
	defer srv.Close()
	const rounds = 400
	asked := make(chan uint64)
	given := make(chan int)
	go func() {
		for i := range rounds {
			q := notice.Question{Number: uint64(i + 1), Text: fmt.Sprint(i), Choices: []string{"0", "1", "2", "3"}}
			h.See(table.Event{Question: &q})
			h.mu.Lock()
			n := h.question.n
			h.mu.Unlock()
			asked <- n
			got, err := h.ask(context.Background(), q)
			if err != nil {
				t.Error(err)
			}
			h.See(table.Event{Answered: true})
			given <- got
		}
	}()
	post := func(n uint64, choice int) int {
		r, err := http.Post(srv.URL+"/api/answer", "application/json", strings.NewReader(fmt.Sprintf(`{"n":%d,"choice":%d}`, n, choice)))
		if err != nil {
			t.Error(err)
			return 0
		}
		_ = r.Body.Close()
		return r.StatusCode
	}
	for i := range rounds {
		n := <-asked
		var status [2]int
		var both sync.WaitGroup
		for k := range 2 {
			both.Go(func() { status[k] = post(n, 2*(i%2)+k) }) // odd rounds answer 2 and 3, even ones 0 and 1
		}
		got := <-given
		both.Wait()
		if got/2 != i%2 {
			t.Fatalf("round %d got the answer %d to another question", i, got)
		}
		if status[0]+status[1] != http.StatusOK+http.StatusConflict || status[got%2] != http.StatusOK {
			t.Fatalf("round %d: answers %v, taken was %d", i, status, got)
		}
	}
}

func TestAPawnBecomesAQueenFirst(t *testing.T) {
	pos := positionOf(t, "4k3/P7/8/8/8/8/8/4K3 w - - 0 1")
	q := notice.Question{Choices: []string{"nothing was played"}, Moves: []chess.Move{0}}
	for _, k := range []chess.Kind{chess.Bishop, chess.Rook, chess.Queen, chess.Knight} {
		m := chess.MakeMove(sq("a7"), sq("a8"), k)
		if !pos.Legal(m) {
			t.Fatal(m)
		}
		q.Choices, q.Moves = append(q.Choices, k.String()), append(q.Moves, m)
	}
	q.Choices, q.Moves = append(q.Choices, "none of these"), append(q.Moves, 0)
	var got []string
	for _, i := range queenFirst(q) {
		got = append(got, q.Choices[i])
	}
	if want := "nothing was played queen rook bishop knight none of these"; strings.Join(got, " ") != want {
		t.Errorf("got %v, want %s", got, want)
	}
}

// lazyFingers are a hand that moves only while somebody lets time pass.
type lazyFingers struct {
	mu   sync.Mutex
	busy bool
	put  []chess.Piece
}

func (f *lazyFingers) Busy() bool { f.mu.Lock(); defer f.mu.Unlock(); return f.busy }

func (f *lazyFingers) Finish() { f.mu.Lock(); defer f.mu.Unlock(); f.busy = false }

func (f *lazyFingers) MovePiece(chess.Square, chess.Square) error { return nil }

func (f *lazyFingers) Arrange(string) error { return nil }

func (f *lazyFingers) PutPiece(p chess.Piece, _ chess.Square) error {
	f.mu.Lock()
	defer f.mu.Unlock()
	f.busy, f.put = true, append(f.put, p)
	return nil
}

// The hand that brought a pawn to its last square is over the board still when
// it is asked what the pawn becomes, and nobody takes pictures meanwhile: the
// exchange is made and the answer comes all the same.
func TestAnExchangeNeedsNoPictures(t *testing.T) {
	h, _ := visitorHost(t)
	hand := &lazyFingers{busy: true}
	h.o.Fingers, h.o.Linger = hand, hand.Finish
	h.at(positionOf(t, "4k3/P7/8/8/8/8/8/4K3 w - - 0 1"))
	if err := h.hand.move(h.standing, sq("a7"), sq("a8")); err != nil {
		t.Fatal(err)
	}
	queen := chess.MakeMove(sq("a7"), sq("a8"), chess.Queen)
	q := notice.Question{Choices: []string{"queen", "none of these"}, Moves: []chess.Move{queen, 0}}
	h.mu.Lock()
	n := h.pose(q).n
	h.mu.Unlock()
	if err := h.Answer(t.Context(), n, 0); err != nil {
		t.Fatal(err)
	}
	if i, err := h.ask(t.Context(), q); i != 0 || err != nil {
		t.Errorf("answered %d, %v", i, err)
	}
	if len(hand.put) != 1 || hand.put[0] != chess.MakePiece(chess.White, chess.Queen) {
		t.Errorf("put on a8: %v", hand.put)
	}
}
