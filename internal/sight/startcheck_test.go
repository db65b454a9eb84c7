// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"image"
	"path/filepath"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/sight/classify"
	"boardhand/internal/sight/hypothesis"
	"boardhand/internal/sight/inference"
	"boardhand/internal/sight/pixels"
	"boardhand/internal/sight/scene"
)

// firstGlance is the first picture of a ray-traced game before anything was
// learnt from it, as if the position had been said to be another; "": the true one.
func firstGlance(t *testing.T, said string) (*inference.Search, *recording) {
	t.Helper()
	s := game(t)
	img, err := decode(s.picture(t, 0))
	if err != nil {
		t.Fatal(err)
	}
	if said != "" {
		if s.start, err = chess.ParseFEN(said); err != nil {
			t.Fatal(err)
		}
	}
	r := NewReader(s.setup)
	r.Begin(s.start)
	view, err := FindBoard(s.setup, img, nil)
	if err != nil {
		t.Fatal(err)
	}
	e, raw, err := r.learnTable(img, view, s.start, nil)
	if err != nil {
		t.Fatal(err)
	}
	g := e.Observe(raw, false)
	g.Grey = func() *image.Gray { return pixels.LumaOf(img) }
	return inference.New(g), s
}

// In a ray-traced start position somebody stands wherever a piece was said to
// stand, and nobody on the bare squares, wherever on them it is supposed.
func TestAttests(t *testing.T) {
	q, s := firstGlance(t, "")
	for k := range chess.NoSquare {
		g := &hypothesis.Hypothesis{After: q.Scene.Board}
		if s.start.At(k) == chess.NoPiece {
			g.After[k] = chess.MakePiece(chess.White, chess.Queen)
			off := frame.Spot[frame.Board]{X: 0.2 * s.setup.Square, Y: -0.1 * s.setup.Square}
			g.Stood = []scene.Placement{q.Scene.Put(g.After[k], k, s.setup.Centre(k).Add(off))}
		} else {
			g.After[k] = chess.NoPiece
		}
		if p := classify.Attests(q.Observation, g, k); p < 0.97 {
			t.Errorf("%v, where %v was said to stand: %.3f", k, s.start.At(k), p)
		}
	}
}

// illegal is a decision that something other than was said stands on a square.
func illegal(q *inference.Search, s chess.Square, seen chess.Piece) *decision {
	same := hypothesis.Hypothesis{State: Same, After: q.Scene.Board, Gone: make([]bool, len(q.Scene.Pieces))}
	other := same
	other.State = Illegal
	other.After[s] = seen
	if seen != chess.NoPiece {
		other.Stood = []scene.Placement{q.Scene.Put(seen, s, q.Scene.Setup.Centre(s))}
	}
	return &decision{observation: q.Observation, search: q, hypotheses: []hypothesis.Hypothesis{other, same}, reading: Reading{State: Illegal, Squares: []chess.Square{s}, Belief: 0.99}}
}

// A phantom on a bare square is put right; not so where a piece is missing who was
// said to stand there, or is said to be of the other side.
func TestStartCheck(t *testing.T) {
	a5, d6 := chess.SquareAt(0, 4), chess.SquareAt(3, 5) // a white pawn, nobody
	queen, pawn := chess.MakePiece(chess.White, chess.Queen), chess.MakePiece(chess.Black, chess.Pawn)
	q, _ := firstGlance(t, "")
	v := illegal(q, d6, queen)
	if v.checkStart(); v.reading.State != Same || v.hypotheses[0].State != Same || len(v.reading.Squares) != 0 {
		t.Errorf("a phantom on d6 is read %+v", v.reading)
	}
	v = illegal(q, a5, pawn)
	if v.checkStart(); v.reading.State != Illegal {
		t.Errorf("a piece of the other side on a5 is read %+v", v.reading)
	}
	q, _ = firstGlance(t, "4k3/1p1p1p1p/3Q4/P1P1P1P1/p1p1p1p1/8/1P1P1P1P/4K3 w - - 0 20")
	v = illegal(q, d6, chess.NoPiece)
	if v.checkStart(); v.reading.State != Illegal {
		t.Errorf("a queen said to stand on d6, where nobody does, is read %+v", v.reading)
	}
}

// A knight and a bishop, or a rook and a knight, in each other's places are
// told from the other pieces of the set.
func TestExchangedAtTheStart(t *testing.T) {
	s, err := readScene(filepath.Join(gateGames, "gate54"))
	if err != nil {
		t.Fatal(err)
	}
	for _, said := range []string{"rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RBNQKBNR", "nrbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR"} {
		pos, err := chess.ParseFEN(said + " w - - 0 1")
		if err != nil {
			t.Fatal(err)
		}
		r := NewReader(s.setup)
		r.Begin(pos)
		got, err := r.Read(t.Context(), s.picture(t, 0))
		if err != nil || got.State != Illegal || len(got.Squares) != 2 {
			t.Errorf("%s, though two stand the other way round, is read %s %v %.3f: %v", said, got.State, got.Squares, got.Belief, err)
		}
	}
}
