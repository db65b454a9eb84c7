// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"os"
	"path/filepath"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/photo"
	"boardhand/internal/rig"
)

// A knight whose magnet is upside down jumped off and lies over the pawn in front of it, which it
// pushed: nobody stands there to be fetched but that pawn.
func TestSeekPastOneThatLies(t *testing.T) {
	dir := filepath.Join("testdata", "fallen")
	r0, err := rig.Load(filepath.Join(dir, "rig.toml"), rig.Machine)
	if err != nil {
		t.Fatal(err)
	}
	setup, err := SetupFrom(r0)
	if err != nil {
		t.Fatal(err)
	}
	start, err := chess.ParseFEN("r1bqkbnr/pppppppp/2n5/8/8/5N2/PPPPPPPP/RNBQKB1R w KQkq - 2 2")
	if err != nil {
		t.Fatal(err)
	}
	r := NewReader(setup)
	r.Begin(start)
	for _, f := range []struct {
		name string
		want State
	}{{"frame_0001.jpg", Same}, {"frame_0002.jpg", Moved}, {"frame_0003.jpg", Illegal}} {
		data, err := os.ReadFile(filepath.Join(dir, f.name))
		if err != nil {
			t.Fatal(err)
		}
		got, err := r.Read(t.Context(), photo.Picture{Name: f.name, JPEG: data})
		if err != nil || got.State != f.want {
			t.Fatalf("%s is read as %s %v, %v", f.name, got.State, got.Squares, err)
		}
		if got.State == Moved {
			if err := r.Accept(got.Move); err != nil {
				t.Fatal(err)
			}
			pos := r.Position()
			due, err := pos.ParseUCI("g8f6")
			if err != nil {
				t.Fatal(err)
			}
			r.Expect(due)
		}
	}
	if s, ok := r.Seek(chess.SquareAt(6, 7), nil); ok {
		t.Errorf("the knight of g8, which lies, is said to stand at %v", s.At)
	}
}
