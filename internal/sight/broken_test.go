// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"context"
	"path/filepath"
	"testing"

	"boardhand/internal/photo"
)

// FuzzRead throws bytes at a reader in mid-game: whatever is no picture of
// this board gets an error or a reading, never a panic and never a move.
func FuzzRead(f *testing.F) {
	s, err := readScene("testdata/games/plastic")
	if err != nil {
		f.Fatal(err)
	}
	good := s.picture(f, 0).JPEG
	f.Add([]byte{})
	f.Add([]byte("\x89PNG\r\n"))
	f.Add(good[:len(good)/2])
	f.Add(append(append([]byte{}, good[:2000]...), good[2500:]...))
	r := NewReader(s.setup)
	r.Begin(s.start)
	if _, err := r.Read(context.Background(), photo.Picture{JPEG: good}); err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		got, err := r.Read(context.Background(), photo.Picture{JPEG: data})
		if err == nil && got.State == Moved {
			t.Errorf("a broken picture was read as %s", got.Move)
		}
	})
}

// A piece lifted off is a move half done, wherever it is meanwhile: laid beside the board it has
// not fallen on it, and where a lamp's reflection stands nobody has put down a queen.
func TestLiftedWhileMoreIsSeen(t *testing.T) {
	for _, name := range []string{"beside", "glare"} {
		s, err := readScene(filepath.Join("testdata", "odd", name))
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
			if got.State != f.State || f.State == Partial && len(got.Squares) != 1 {
				t.Errorf("%s/%s: read as %s %v, it is %s", name, f.Frame, got.State, got.Squares, f.State)
			}
		}
	}
}
