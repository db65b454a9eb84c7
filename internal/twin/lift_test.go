// SPDX-License-Identifier: Apache-2.0

package twin

import (
	"context"
	"testing"

	"boardhand/internal/twin/physics"
	"boardhand/internal/unit"
)

func TestTrapdoor(t *testing.T) {
	r := small()
	r.Removal.Mode = "chute"
	r.Removal.Chute = [2]unit.Length{unit.MM(100), unit.MM(-100)}
	w := worldOf(t, r, kings)
	must(t, tow(t, w, 0.06, 0.4, w.on("d5"), spot{X: 0.1, Y: -0.1}))
	if got := len(w.Truth().Pieces); got != 3 {
		t.Fatalf("%d pieces", got)
	}
	if w.table.Pieces[1].Place != physics.Gone {
		t.Error("the rook stands over the hole")
	}
	_, err := w.Camera().Look(context.Background())
	must(t, err)
}
