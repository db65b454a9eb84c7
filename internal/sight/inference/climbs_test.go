// SPDX-License-Identifier: Apache-2.0

package inference

import (
	"testing"

	"boardhand/internal/frame"
	"boardhand/internal/sight/likelihood"
	"boardhand/internal/sight/pixels"
	"boardhand/internal/sight/scene"
	"boardhand/internal/sight/silhouette"
)

// A climb is recalled where all that touches the pixels it tried is as it was, and only there.
func TestRecall(t *testing.T) {
	const w = 100
	at := func(x, y int) []silhouette.Cover { return []silhouette.Cover{{Pixel: int32(y*w + x), Alpha: 1}} }
	sc := &scene.Scene{Plane: &pixels.Plane{W: w, H: w}, Pieces: []scene.Placement{{Covers: at(12, 12)}, {Covers: at(80, 80)}, {Covers: at(11, 14)}}}
	q := NewUnmarked(&likelihood.Observation{Scene: sc})
	start := scene.Placement{Covers: at(10, 10), At: frame.Spot[frame.Board]{X: 0.01}}
	end := scene.Placement{Covers: at(13, 13), At: frame.Spot[frame.Board]{X: 0.02}}
	if q.recall([]bool{true, false, false}, []scene.Placement{start}, 0) != nil {
		t.Fatal("recalled before it was made")
	}
	q.climbs.tried = pixels.Box{X0: 10, Y0: 10, X1: 15, Y1: 15}
	q.keep(footOf(&start), []bool{true, false, false}, []scene.Placement{end}, 0, 7)
	for _, c := range []struct {
		name   string
		gone   []bool
		beside scene.Placement
		want   bool
	}{
		{"all as it was, one far off gone, one far off arrived", []bool{true, true, false}, scene.Placement{Covers: at(70, 10)}, true},
		{"another gone from there", []bool{true, false, true}, scene.Placement{Covers: at(70, 10)}, false},
		{"none gone", []bool{false, false, false}, scene.Placement{Covers: at(70, 10)}, false},
		{"another arrived there", []bool{true, false, false}, scene.Placement{Covers: at(14, 14)}, false},
	} {
		got := q.recall(c.gone, []scene.Placement{c.beside, start}, 1)
		if (got != nil) != c.want || got != nil && (got.gain != 7 || got.to.At != end.At) {
			t.Errorf("%s: recalled %v", c.name, got)
		}
	}
	sc.Stack.Version++
	if q.recall([]bool{true, false, false}, []scene.Placement{start}, 0) != nil {
		t.Error("recalled in another scene")
	}
}
