package sight

import (
	"context"
	"testing"
	"time"
)

// TestWhatRestsIsNoHand: something that lies quite still over the board's edge
// picture after picture is taken for what it is, a thing; a hand that moves
// never is. The pictures are ray-traced.
func TestWhatRestsIsNoHand(t *testing.T) {
	s, err := readScene("testdata/games/plastic")
	if err != nil {
		t.Fatal(err)
	}
	var hands []int
	for k, f := range s.frames {
		if f.State == Hand {
			hands = append(hands, k)
		}
	}
	if len(hands) < 2 {
		t.Fatalf("the game shows %d hands, two are needed", len(hands))
	}
	r := NewReader(s.setup)
	r.Begin(s.start)
	read := func(k int, at time.Time) State {
		p := s.picture(t, k)
		p.Taken = at
		got, err := r.Read(context.Background(), p)
		if err != nil {
			t.Fatal(err)
		}
		return got.State
	}
	now := time.Date(2026, 1, 1, 20, 0, 0, 0, time.UTC)
	if got := read(0, now); got != Same {
		t.Fatalf("the first picture was read as %s", got)
	}
	for n := range 12 { // moving to and fro for a minute
		now = now.Add(5 * time.Second)
		if got := read(hands[n%2], now); got != Hand {
			t.Fatalf("a moving hand was read as %s", got)
		}
	}
	for n := range 4 { // still, but not for long
		if got := read(hands[0], now.Add(time.Duration(n)*time.Second)); got != Hand {
			t.Fatalf("a hand still for %d s was read as %s", n, got)
		}
	}
	if got := read(hands[0], now.Add(10*time.Second)); got == Moved {
		t.Error("a resting hand was read as a move")
	}
}
