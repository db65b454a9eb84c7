// SPDX-License-Identifier: Apache-2.0

package physics

import (
	"math"
	"testing"

	"boardhand/internal/rig"
	"boardhand/internal/twin/room"
	"boardhand/internal/unit"
)

// A base over the trapdoor stands as long as its centre of mass is over the
// chord of the board that is left under it; a wide base never falls.
func TestTrapdoorSwallowsWhatIsUnsupported(t *testing.T) {
	r := rig.Default()
	r.Removal.Mode, r.Removal.Chute = "chute", [2]unit.Length{unit.MM(60), unit.MM(-60)}
	w := tableOf(t, r, kings)
	b := w.on("d5")
	hole, radius := spot{X: 0.06, Y: -0.06}, holeShare*float64(r.Board.Square)
	chord := math.Sqrt(radius*radius - b.Base*b.Base)
	for off, falls := range map[float64]bool{0: true, chord - 1e-4: true, chord + 1e-4: false, radius: false} {
		b.At = hole.Add(spot{X: off})
		if got := w.overHole(b); got != falls {
			t.Errorf("%.2f mm from the middle of a hole of %.1f mm: falls %v", off*1e3, radius*1e3, got)
		}
	}
	b.Base = radius
	b.At = hole
	if w.overHole(b) {
		t.Error("a base as wide as the hole fell through")
	}
}

// A piece dragged beyond the machine's top lies on the table.
func TestOverTheEdge(t *testing.T) {
	r := rig.Default()
	w := tableOf(t, r, kings)
	b := w.on("d5")
	edge := room.Top(r)[1]
	b.At = spot{X: edge - 0.01}
	w.unsupported(b)
	if b.Place != OnBoard {
		t.Fatal("fell before the edge")
	}
	b.vel = spot{X: 0.5}
	for range 400 {
		if b.Place != OnBoard {
			break
		}
		w.Advance(w.FieldOf(far))
	}
	if b.Place != Beside || !b.Fallen || b.Z >= 0 || w.count(Toppled) != 1 {
		t.Errorf("place %v, fallen %v, z %.3f, %+v", b.Place, b.Fallen, b.Z, w.told)
	}
}
