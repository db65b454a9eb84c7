// SPDX-License-Identifier: Apache-2.0

package table

import (
	"boardhand/internal/chess"
	"boardhand/internal/diagnosis"
)

// identity names the piece at a place by where the game began for it.
func (t *Table) identity(piece chess.Piece, at Place) diagnosis.Piece {
	id, ok := t.ids[at]
	if !ok {
		id = at.String()
	}
	return diagnosis.Piece{ID: id, Kind: piece.Kind().String(), Side: piece.Color().String()}
}

// move brings a piece from one place to another, in the standing and by name.
func (t *Table) move(piece chess.Piece, from, to Place) {
	delete(t.vouched, from)
	t.now.move(piece, from, to)
	t.rename(from, to)
}

// rename lets the name of the piece at a place go with it to another.
func (t *Table) rename(from, to Place) {
	id, ok := t.ids[from]
	if !ok {
		id = from.String()
	}
	delete(t.ids, from)
	if to >= 0 && from >= 0 {
		t.ids[to] = id
	} else {
		delete(t.ids, to)
	}
}

// renameByHand lets the names of the pieces of the machine's own move follow
// where a person made it: they are still noted where they stood.
func (t *Table) renameByHand(pos chess.Position, m chess.Move) {
	follow := func(from, to chess.Square) {
		if t.now.Board[from] == pos.At(from) {
			t.rename(Place(from), Place(to))
		}
	}
	if pos.IsCastling(m) {
		follow(pos.RookMove(m))
	}
	follow(m.From(), m.To())
}

// origins are the names of the pieces on the board after the moves of a game.
func origins(g *chess.Game) map[Place]string {
	ids := map[Place]string{}
	pos := g.Start
	shift := func(from, to chess.Square) {
		id, ok := ids[Place(from)]
		if !ok {
			id = from.String()
		}
		delete(ids, Place(from))
		ids[Place(to)] = id
	}
	for _, m := range g.Moves {
		if pos.IsCastling(m) {
			shift(pos.RookMove(m))
		}
		shift(m.From(), m.To())
		pos.Make(m)
	}
	return ids
}
