package sight

import (
	"context"
	"testing"

	"boardhand/internal/chess"
)

// TestHandBeforeTheFirstPicture: when a reader begins anew at a table it has
// seen, a hand over the board is known though nothing of the new game is. The
// pictures are ray-traced.
func TestHandBeforeTheFirstPicture(t *testing.T) {
	s, err := readScene("testdata/games/plastic")
	if err != nil {
		t.Fatal(err)
	}
	r := NewReader(s.setup)
	r.Begin(s.start)
	read := func(k int) State {
		got, err := r.Read(context.Background(), s.picture(t, k))
		if err != nil {
			t.Fatal(err)
		}
		return got.State
	}
	if got := read(0); got != Same {
		t.Fatalf("the first picture was read as %s", got)
	}
	for k, f := range s.frames {
		if f.State != Hand {
			continue
		}
		before, err := chess.ParseFEN(f.FEN)
		if err != nil {
			t.Fatal(err)
		}
		r.Begin(before)
		if got := read(k); got != Hand {
			t.Errorf("%s was read as %s", f.Frame, got)
		}
	}
	r.Begin(s.start)
	if got := read(0); got != Same {
		t.Errorf("the first picture was then read as %s", got)
	}
}
