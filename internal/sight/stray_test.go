// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"context"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/sight/scene"
)

// TestOutOfTurn: a piece of the side that is not to move, displaced, is illegal,
// and both of its squares are named. The pictures are ray-traced games; the
// reader is told that the other side is to move.
func TestOutOfTurn(t *testing.T) {
	for _, name := range []string{"green", "plastic"} {
		s, err := readScene(filepath.Join("testdata", "games", name))
		if err != nil {
			t.Fatal(err)
		}
		k := slices.IndexFunc(s.frames, func(f truth) bool { return f.State == Moved })
		m, err := s.start.ParseUCI(s.frames[k].Move)
		if err != nil {
			t.Fatal(err)
		}
		other, err := chess.ParseFEN(strings.Replace(s.start.FEN(), " w ", " b ", 1))
		if err != nil {
			t.Fatal(err)
		}
		r := NewReader(s.setup)
		r.Begin(other)
		for _, n := range []int{0, k} {
			got, err := r.Read(context.Background(), s.picture(t, n))
			if err != nil {
				t.Fatal(err)
			}
			want := Reading{State: Same}
			if n == k {
				want = Reading{State: Illegal, Squares: scene.Merge(nil, []chess.Square{m.From(), m.To()})}
			}
			if got.State != want.State || !slices.Equal(got.Squares, want.Squares) {
				t.Errorf("%s, picture %d: %s %v, want %s %v", name, n, got.State, got.Squares, want.State, want.Squares)
			}
		}
	}
}
