// SPDX-License-Identifier: Apache-2.0

package twin

import (
	"context"
	"math"
	"slices"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/rig"
	"boardhand/internal/sight"
)

// lying is a piece that fell onto or beside another.
type lying struct {
	from, over string  // squares: where it stood, and on which the middle of it lies
	angle      float64 // where its head lies, degrees from the file a to h
}

// lay puts it there.
func (w *World) lay(f lying) {
	b := w.find(f.from)
	a := f.angle * math.Pi / 180
	b.Heading = frame.Spot[frame.Board]{X: math.Cos(a), Y: math.Sin(a)}
	b.At, b.Fallen = w.on(f.over).Add(b.Heading.Scale(-b.Height/2)), true
}

// afterE4 is a reader that has seen one move on a world.
func afterE4(t *testing.T, w *World) (read func() sight.Reading) {
	t.Helper()
	set, err := sight.SetupFrom(rig.Default())
	must(t, err)
	r := sight.NewReader(set)
	read = func() sight.Reading {
		t.Helper()
		p, err := w.Camera().Look(context.Background())
		must(t, err)
		got, err := r.Read(context.Background(), p)
		must(t, err)
		return got
	}
	pos := chess.Start()
	r.Begin(pos)
	m, err := pos.ParseUCI("e2e4")
	must(t, err)
	read()
	must(t, w.Visitor().MovePiece(m.From(), m.To()))
	w.Visitor().Finish()
	if got := read(); got.State != sight.Moved {
		t.Fatalf("the first move is read as %s", got.State)
	}
	must(t, r.Accept(m))
	return read
}

// A piece that lies over a standing one is missed where it stood, and the standing one is
// seen where it stands: it was not touched.
func TestFallenOverStanding(t *testing.T) {
	for _, f := range []lying{{"g8", "g7", -20}, {"g8", "f7", 200}, {"f8", "g7", 45}, {"b8", "a7", 120}, {"g8", "f8", 0}} {
		w, err := New(rig.Default(), Options{Seed: 1})
		must(t, err)
		read := afterE4(t, w)
		w.lay(f)
		w.settle()
		got := read()
		from, over := w.table.SquareAt(w.on(f.from)), w.table.SquareAt(w.on(f.over))
		if got.State != sight.Illegal || !slices.Contains(got.Squares, from) {
			t.Errorf("%v: %s %v; no rule allows that, and %s is empty", f, got.State, got.Squares, from)
		}
		stands := w.find(f.over).At.Sub(w.on(f.over))
		for _, o := range got.Offsets {
			if far := o.Delta.Distance(stands); o.Square == over && far > 3e-3 {
				t.Errorf("%v: who stands on %s is seen %.1f mm from there", f, over, 1e3*far)
			}
		}
	}
}
