// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"context"
	"os"
	"path/filepath"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/photo"
	"boardhand/internal/rig"
)

// A hand that comes in over bare wood of its own colour shows no arm there; what it covers of the
// field is enough to hold the carriage. A piece that is carried meanwhile is no hand.
func TestHandOverWoodIsInTheWay(t *testing.T) {
	setup, err := SetupFrom(rig.Default())
	if err != nil {
		t.Fatal(err)
	}
	pos, err := chess.ParseFEN("rnbqkbnr/pppppppp/8/8/6P1/8/PPPPPP1P/RNBQKBNR b KQkq - 0 1")
	if err != nil {
		t.Fatal(err)
	}
	load := func(name string) photo.Picture {
		data, err := os.ReadFile(filepath.Join("testdata", "overwood", name))
		if err != nil {
			t.Fatal(err)
		}
		return photo.Picture{Name: name, JPEG: data}
	}
	r := NewReader(setup)
	r.Begin(pos)
	for range 2 {
		if got, err := r.Read(context.Background(), load("clear.jpg")); err != nil || got.State != Same {
			t.Fatal(got.State, err)
		}
	}
	for name, want := range map[string]bool{"clear.jpg": false, "carried.jpg": false, "hand.jpg": true} {
		if o, err := r.InWay(context.Background(), load(name), Way{}); err != nil || o.IsHand != want {
			t.Errorf("%s: a hand: %v, want %v (%v)", name, o.IsHand, want, err)
		}
	}
}
