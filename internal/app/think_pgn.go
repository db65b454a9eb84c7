// SPDX-License-Identifier: Apache-2.0

package app

import (
	"fmt"
	"os"

	"boardhand/internal/chess"
)

// asked is the game whose last position is thought about: of --pgn, with the
// positions that came before it, or of --fen alone.
func (f thinkFlags) asked() (*chess.Game, error) {
	if f.pgn == "" {
		pos, err := position(f.fen)
		return chess.NewGame(pos), err
	}
	text, err := os.ReadFile(f.pgn)
	if err != nil {
		return nil, fmt.Errorf("cannot read the games: %w", err)
	}
	games, err := chess.ReadPGN(string(text))
	n := f.game
	switch {
	case n > 0 && n <= len(games): // what comes after it is of no account
	case err != nil:
		return nil, fmt.Errorf("%s: %w", f.pgn, err)
	case len(games) == 0:
		return nil, fmt.Errorf("%s: no game in this file", f.pgn)
	case n == 0 && len(games) > 1:
		return nil, fmt.Errorf("%s holds %d games: say which with --game", f.pgn, len(games))
	case n > len(games) || n < 0:
		return nil, fmt.Errorf("--game must be 1 to %d, the games of %s; got %d", len(games), f.pgn, n)
	default:
		n = 1
	}
	g := games[n-1]
	if pos := g.Position(); len(pos.LegalMoves(nil)) == 0 {
		return nil, fmt.Errorf("%s: the game is over (%s): %w at its end", f.pgn, g.Outcome(), errNoMove)
	}
	return g, nil
}
