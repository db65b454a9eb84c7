// SPDX-License-Identifier: Apache-2.0

package twin

import (
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/notice"
	"boardhand/internal/twin/physics"
)

// A piece that fell over the edge is found on the table.
func TestFallenPieceIsFound(t *testing.T) {
	w := worldOf(t, small(), kings)
	b := w.find("d5")
	b.Place, b.Fallen = physics.Beside, true
	d5 := w.table.SquareAt(w.on("d5"))
	tell(t, w, notice.Notice{Kind: notice.PleasePut, Piece: b.Piece, Squares: []chess.Square{d5}})
	looks(t, w)
	if len(w.table.Pieces) != 3 || w.find("d5") != b || b.Fallen {
		t.Error("a person does not find it on the table")
	}
}
