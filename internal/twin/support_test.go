package twin

import (
	"testing"

	"boardhand/internal/rig"
	"boardhand/internal/twin/physics"
)

// A piece that fell over the edge is found on the table.
func TestFallenPieceIsFound(t *testing.T) {
	w := worldOf(t, rig.Default(), kings)
	b := w.find("d5")
	b.Place, b.Fallen = physics.Beside, true
	if p := w.person.boxed(b.Piece); p != b {
		t.Error("a person does not find it on the table")
	}
}
