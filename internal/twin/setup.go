// SPDX-License-Identifier: Apache-2.0

package twin

import (
	"boardhand/internal/chess"
	"boardhand/internal/twin/physics"
)

// setMen puts the pieces of a position on their squares, as a person would.
func (w *World) setPieces(pos chess.Position, o Options) {
	for s := chess.Square(0); s < chess.NoSquare; s++ {
		p := pos.At(s)
		if int(s) < len(o.Pieces) {
			p = o.Pieces[s]
		}
		if p != chess.NoPiece {
			b := w.table.Turn(p)
			b.At, b.Origin = w.table.Around(w.table.Centre(s), w.deviations.Placement), s
		}
	}
	for _, b := range w.table.Pieces {
		w.table.MakeRoom(b)
	}
}

// setAside puts pieces in the tray, and others into the guest's keeping.
func (w *World) setAside(pieces []Aside) {
	for _, m := range pieces {
		b := w.table.Turn(m.Piece)
		if m.At != nil {
			b.At = *m.At
			continue
		}
		b.Place = physics.Beside
		b.At, b.Z = w.person.Shelf(b)
	}
}
