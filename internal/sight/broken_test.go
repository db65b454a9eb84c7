// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"context"
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
