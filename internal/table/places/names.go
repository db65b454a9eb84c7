// SPDX-License-Identifier: Apache-2.0

package places

import "boardhand/internal/chess"

// Names tell which piece stands at a place: each is called by where the game
// began for it. A piece that is not listed is called by its place.
type Names map[Place]string

// Of is the name of the piece at a place.
func (n Names) Of(at Place) string {
	if id, ok := n[at]; ok {
		return id
	}
	return at.String()
}

// Follow lets the name of the piece at a place go with it to another.
func (n Names) Follow(from, to Place) {
	id := n.Of(from)
	delete(n, from)
	if to >= 0 && from >= 0 {
		n[to] = id
	} else {
		delete(n, to)
	}
}

// NamesAfter are the names of the pieces on the board after the moves of a game.
func NamesAfter(g *chess.Game) Names {
	n := Names{}
	pos := g.Start
	for _, m := range g.Moves {
		for _, a := range pos.Acts(m) {
			n.Follow(onBoard(a.From), onBoard(a.To))
		}
		pos.Make(m)
	}
	return n
}

// onBoard is a square as a place; no square is with a person.
func onBoard(s chess.Square) Place {
	if s >= chess.NoSquare {
		return Person
	}
	return Place(s)
}
