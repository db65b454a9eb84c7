// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"context"
	"os"
	"path/filepath"
	"testing"

	"boardhand/internal/photo"
	"boardhand/internal/sight/tracking"
)

// TestEarlierPicturesTellTheOrder reads three plies at once, of which two are one side's and
// could have been played the other way round: a picture that was seen before and not agreed
// upon shows which came first.
func TestEarlierPicturesTellTheOrder(t *testing.T) {
	s, err := readScene(filepath.Join(gateGames, "gate54"))
	if err != nil {
		t.Fatal(err)
	}
	picture := func(f truth) photo.Picture {
		data, err := os.ReadFile(filepath.Join(s.dir, f.Frame))
		if err != nil {
			t.Fatal(err)
		}
		return photo.Picture{Name: f.Frame, JPEG: data}
	}
	read := func(r *Reader, f truth) Reading {
		got, err := r.Read(context.Background(), picture(f))
		if err != nil {
			t.Fatal(err)
		}
		return got
	}
	r := NewReader(s.setup)
	r.Begin(s.start)
	r.LookFor(4)
	told := 0
	var moves []truth // since the last that was accepted
	for _, f := range s.frames {
		switch {
		case f.State == Same && len(moves) == 0:
			read(r, f)
		case f.State == Moved:
			moves = append(moves, f)
		}
		if len(moves) < 3 {
			continue
		}
		got := read(r, f)
		if got.State == Several && len(got.Plies) == 3 && got.Plies[0].Belief < 0.7 {
			img, err := decode(picture(moves[0]))
			if err != nil {
				t.Fatal(err)
			}
			r.glimpses = []*tracking.Glimpse{{Raw: r.reduce(img, r.tracker.Reduce)}}
			got = read(r, f)
			if got.State != Several || got.Plies[0].Move.String() != moves[0].Move || got.Plies[0].Belief < 0.9 {
				t.Errorf("%s: with a picture of %s read as %s %v", f.Frame, moves[0].Move, got.State, got.Plies)
			}
			told++
		}
		if err := r.AcceptAll(got.Plies); err != nil {
			t.Fatal(err)
		}
		moves = nil
	}
	if told == 0 {
		t.Error("no three plies whose order was open")
	}
}
