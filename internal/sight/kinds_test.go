// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"path/filepath"
	"slices"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/sight/classify"
	"boardhand/internal/sight/hypothesis"
)

// In ray-traced games, pawns that became knights, bishops and rooks are read for
// what they are, without a question.
func TestPromotedKinds(t *testing.T) {
	read := map[chess.Kind]int{}
	for _, name := range []string{"mitres", "towers"} {
		s, err := readScene(filepath.Join("testdata", "games", name))
		if err != nil {
			t.Fatal(err)
		}
		r := NewReader(s.setup)
		r.Begin(s.start)
		for k, f := range s.frames {
			got, err := r.Read(t.Context(), s.picture(t, k))
			if err != nil {
				t.Fatal(err)
			}
			if got.State != f.State {
				t.Fatalf("%s/%s is a %s %s, read %s %s", name, f.Frame, f.State, f.Move, got.State, got.Move)
			}
			if f.State != Moved {
				continue
			}
			if got.Move.String() != f.Move {
				t.Fatalf("%s/%s: read %s, it was %s", name, f.Frame, got.Move, f.Move)
			}
			read[got.Move.Promotion()]++
			if err := r.Accept(got.Move); err != nil {
				t.Fatal(err)
			}
		}
	}
	if read[chess.Knight] < 2 || read[chess.Bishop] < 2 || read[chess.Rook] < 2 {
		t.Errorf("promotions read: %v", read)
	}
}

// Where the hypotheses' places agree on what the head is, the kinds are told; where
// one stands so far off that the head looks like another's, they are contested.
func TestContestedKinds(t *testing.T) {
	s, err := readScene(filepath.Join("testdata", "games", "towers"))
	if err != nil {
		t.Fatal(err)
	}
	r := NewReader(s.setup)
	r.Begin(s.start)
	for k := range 2 { // the start, then a pawn that took and became a knight
		if _, err := r.Read(t.Context(), s.picture(t, k)); err != nil {
			t.Fatal(err)
		}
	}
	g := r.pending.observation
	var kinds []*hypothesis.Hypothesis
	for k := range r.pending.hypotheses {
		if h := &r.pending.hypotheses[k]; h.State == Moved && h.Move.To() == r.pending.hypotheses[0].Move.To() && h.Move.Promotion() != chess.NoKind && h.Arrived(h.Move.To()) != nil {
			kinds = append(kinds, h)
		}
	}
	on := kinds[0].Move.To()
	seen := classify.PromotedAs(g, r.tracker.Known, kinds, on)
	best := kinds[slices.Index(seen.Nats, slices.Max(seen.Nats))]
	if seen.Contested || best.Move.Promotion() != chess.Knight {
		t.Fatalf("a knight's head says %v of %d kinds, contested: %v", best.Move, len(kinds), seen.Contested)
	}
	// With nobody to compare it with, heads in general are asked.
	for _, h := range kinds {
		h.Gone = slices.Repeat([]bool{true}, len(h.Gone))
	}
	other := kinds[(slices.Index(kinds, best)+1)%len(kinds)].Arrived(on)
	for far := 1.0; far <= 12; far++ { // millimetres towards the camera's foot point
		inwards := other.At.Scale(-1e-3 / other.At.Norm())
		other.At = other.At.Add(inwards)
		if classify.PromotedAs(g, nil, kinds, on).Contested {
			return
		}
	}
	t.Error("a place 12 mm off contests nothing")
}

// What is known of this game's pieces outlives a look at the table as if for the first time.
func TestKnownPiecesOutliveTheTracker(t *testing.T) {
	s, err := readScene(filepath.Join("testdata", "games", "towers"))
	if err != nil {
		t.Fatal(err)
	}
	r := NewReader(s.setup)
	r.Begin(s.start)
	if _, err := r.Read(t.Context(), s.picture(t, 0)); err != nil {
		t.Fatal(err)
	}
	n := len(r.tracker.Known)
	if n == 0 {
		t.Fatal("the first picture makes no piece known")
	}
	r.Afresh()
	if len(r.known) != n {
		t.Errorf("%d pieces are known after a fresh start, %d were", len(r.known), n)
	}
	if r.Begin(s.start); len(r.known) != 0 {
		t.Errorf("%d pieces of an earlier game are known", len(r.known))
	}
}

// A person may say of the very first picture that a move was played up to it: what was
// observed before anything was learnt is weighed once more then.
func TestMoveSaidOfTheFirstPicture(t *testing.T) {
	s, err := readScene(filepath.Join("testdata", "games", "towers"))
	if err != nil {
		t.Fatal(err)
	}
	r := NewReader(s.setup)
	r.Begin(s.start)
	got, err := r.Read(t.Context(), s.picture(t, 0))
	if err != nil || got.State != Same {
		t.Fatalf("the first picture is read %s: %v", got.State, err)
	}
	m := s.start.LegalMoves(nil)[0]
	if err := r.Accept(m); err != nil {
		t.Fatal(err)
	}
	if p := r.Position(); p.FEN() == s.start.FEN() {
		t.Errorf("%s was said, and the position is still %s", m, p.FEN())
	}
}
