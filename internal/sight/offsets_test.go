// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"context"
	"math"
	"testing"

	"boardhand/internal/chess"
)

// A settled reading says where the pieces stand, the one that has just moved too:
// before anybody has accepted the move.
func TestReadingMeasures(t *testing.T) {
	s := game(t)
	r := NewReader(s.setup)
	r.Begin(s.start)
	var moved []float64 // mm, each coordinate of the piece that moved
	for k, f := range s.frames {
		got, err := r.Read(context.Background(), s.picture(t, k))
		if err != nil {
			t.Fatal(err)
		}
		at := map[chess.Square]Offset{}
		for _, o := range got.Offsets {
			at[o.Square] = o
		}
		switch got.State {
		case Hand, Unsure:
			if len(at) > 0 {
				t.Errorf("%s is %s, but says where %d pieces stand", f.Frame, got.State, len(at))
			}
			continue
		case Same, Moved:
			pos := r.Position()
			if got.State == Moved {
				pos = pos.After(got.Move)
			}
			for q := range chess.NoSquare {
				if _, ok := at[q]; ok != (pos.At(q) != chess.NoPiece) {
					t.Errorf("%s: measured on %v: %v; on it stands %v", f.Frame, q, ok, pos.At(q))
				}
			}
		}
		if got.State != Moved {
			continue
		}
		o, want := at[got.Move.To()], f.Offsets[got.Move.To().String()]
		moved = append(moved, math.Abs(o.Delta.X*1e3-want[0]), math.Abs(o.Delta.Y*1e3-want[1]))
		if err := r.Accept(got.Move); err != nil {
			t.Fatal(err)
		}
	}
	t.Logf("%d moves: off by %.2f mm in the median, %.2f at most", len(moved)/2, quantile(moved, 0.5), quantile(moved, 1))
	if m := quantile(moved, 0.5); len(moved) == 0 || !(m < 1) {
		t.Errorf("the pieces that moved are measured wrong by %.2f mm in the median; 1 mm is the aim", m)
	}
}
