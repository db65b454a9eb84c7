// SPDX-License-Identifier: Apache-2.0

package physics

import (
	"math"
	"testing"

	"boardhand/internal/rig"
	"boardhand/internal/twin/mechanics"
)

// A block thrown over a surface stops after v²/(2 μ g) (textbook).
func TestThrownPieceStops(t *testing.T) {
	w := tableOf(t, rig.Default(), "4k3/8/8/8/8/8/8/R3K3 w - - 0 1")
	b := w.on("a1")
	const v = 0.25
	from := b.At
	b.vel = spot{X: v}
	for range 4000 {
		w.Advance(Field{Gap: 1, At: spot{X: 9}})
	}
	want := v * v / (2 * b.Kinetic * gravity)
	if got := b.At.Distance(from); math.Abs(got-want) > v*mechanics.Step {
		t.Errorf("stopped after %.3f mm, want %.3f mm", got*1e3, want*1e3)
	}
}

// Below μ m g nothing moves, above it does: the tilted-board test.
func TestStaticFrictionHolds(t *testing.T) {
	w := tableOf(t, rig.Default(), "4k3/8/8/8/8/8/8/R3K3 w - - 0 1")
	b := w.on("a1")
	hold := b.Static * b.Mass * gravity
	if w.slide(b, spot{X: 0.999 * hold}, 0) {
		t.Error("slid below static friction")
	}
	if !w.slide(b, spot{X: 1.001 * hold}, 0) {
		t.Error("held above static friction")
	}
}
