// SPDX-License-Identifier: Apache-2.0

package twin

import (
	"context"
	"testing"

	"boardhand/internal/photo"
)

// A stroke that is held under way keeps its piece: it stands with the magnet, and both end
// where they should; pictures show it between squares meanwhile.
func TestHeldStrokeKeepsItsPiece(t *testing.T) {
	w, err := New(small(), Options{Seed: 3, FEN: "r3k3/8/8/8/8/8/8/4K3 b - - 0 1", AllPictures: true})
	must(t, err)
	g, ctx := w.Gantry(), context.Background()
	_, err = g.Home(ctx)
	must(t, err)
	must(t, stroke(t, w, 0.1, 0.4, w.on("a8")))
	must(t, g.Lift(ctx, true))
	var at []float64 // y of the rook, a picture each
	look := func(_ context.Context, p photo.Picture, err error) {
		if must(t, err); len(p.JPEG) == 0 {
			t.Error("a picture without bytes")
		}
		for _, b := range w.Truth().Pieces {
			if b.Piece.Kind().String() == "rook" {
				at = append(at, b.At.Y)
			}
		}
		switch len(at) {
		case 3:
			must(t, g.Hold())
		case 12:
			must(t, g.Resume())
		}
	}
	must(t, w.Camera().During(ctx, func(context.Context) error { return stroke(t, w, 0.1, 0.4, w.on("a1")) }, look))
	if len(at) < 14 {
		t.Fatalf("%d pictures came", len(at))
	}
	if still := at[6] - at[11]; still > 1e-4 || at[0]-at[6] < 0.01 {
		t.Errorf("held, the rook went %.2f mm on, after %.1f mm", still*1e3, (at[0]-at[6])*1e3)
	}
	must(t, g.Lift(ctx, false))
	truth := w.Truth()
	if truth.Counters.Slips > 0 || truth.Squares[0].Kind().String() != "rook" {
		t.Errorf("%+v; on a1 stands %v", truth.Counters, truth.Squares[0])
	}
}
