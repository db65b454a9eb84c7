// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"math"
	"path/filepath"
	"slices"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/sight/heads"
)

// says is a head that is n nats surer of one kind than of any other.
func says(k chess.Kind, n float64) (w [chess.King + 1]float64) {
	w[k] = n
	return w
}

// What heads say counts in full when they name the known pieces rightly, less when
// they err, and not at all when they say the contrary of what is so.
func TestFaith(t *testing.T) {
	kinds := heads.Officers[:]
	right := []known{{chess.Rook, says(chess.Rook, 6)}, {chess.Knight, says(chess.Knight, 5)}, {chess.Bishop, says(chess.Bishop, 7)}}
	wrong := []known{{chess.Rook, says(chess.Queen, 6)}, {chess.Knight, says(chess.Bishop, 5)}, {chess.Bishop, says(chess.Rook, 7)}}
	if f := faith(nil); f != 1 {
		t.Errorf("nobody is known: %g, want 1", f)
	}
	if f := faith(right); f != 1 {
		t.Errorf("all named rightly: %g, want 1", f)
	}
	if f := faith(wrong); f != 0 {
		t.Errorf("all named wrongly: %g, want 0", f)
	}
	if f := faith(append(right, wrong...)); f <= 0 || f >= 0.7 {
		t.Errorf("half of them named wrongly: %g, want some", f)
	}
	if s := shares(&wrong[0].weigh, kinds, 0); math.Abs(s[chess.Queen]-math.Log(0.25)) > 1e-12 {
		t.Errorf("without faith a queen has %.3f nats, want ln 1/4", s[chess.Queen])
	}
	if s := shares(&right[0].weigh, kinds, 1); math.Abs(s[chess.Rook]+math.Log1p(3*math.Exp(-6))) > 1e-12 {
		t.Errorf("a rook 6 nats ahead of three has %.6f nats", s[chess.Rook])
	}
}

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
	g := r.seen.glance
	var kinds []*hypothesis
	for k := range r.seen.hypotheses {
		if h := &r.seen.hypotheses[k]; h.state == Moved && h.move.To() == r.seen.hypotheses[0].move.To() && h.move.Promotion() != chess.NoKind && h.promoted() != nil {
			kinds = append(kinds, h)
		}
	}
	nats, contested := promotedAs(g, r.eye.met, kinds)
	best := kinds[slices.Index(nats, slices.Max(nats))]
	if contested || best.move.Promotion() != chess.Knight {
		t.Fatalf("a knight's head says %v of %d kinds, contested: %v", best.move, len(kinds), contested)
	}
	other := kinds[(slices.Index(kinds, best)+1)%len(kinds)].promoted()
	for far := 1.0; far <= 12; far++ { // millimetres towards the camera's foot point
		inwards := other.at.Scale(-1e-3 / other.at.Norm())
		other.at = other.at.Add(inwards)
		if _, contested = promotedAs(g, r.eye.met, kinds); contested {
			return
		}
	}
	t.Error("a place 12 mm off contests nothing")
}
