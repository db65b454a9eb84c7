// SPDX-License-Identifier: Apache-2.0

package rig

import (
	"fmt"
	"strings"

	"boardhand/internal/game"
)

// Plays says why a game cannot be played on the rig: it takes more squares, or
// other pieces.
func (r *Rig) Plays(b game.Board, kinds *game.Kinds) error {
	if err := r.Board.Holds(b); err != nil {
		return err
	}
	return r.Pieces.Are(kinds)
}

// Are says why a game cannot be played with the pieces: they are of other kinds.
func (p *Pieces) Are(kinds *game.Kinds) error {
	have := p.Kinds()
	if *have == *kinds {
		return nil
	}
	return fmt.Errorf("the game takes pieces of the kinds %s and the rig's are %s: set pieces.kinds to [%s] and say under [pieces] how large each is",
		strings.Join(kinds.Keys(), ", "), strings.Join(have.Keys(), ", "), quoted(kinds.Keys()))
}
