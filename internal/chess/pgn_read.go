// SPDX-License-Identifier: Apache-2.0

package chess

import (
	"fmt"
	"strings"
)

// ReadPGN reads all games of a PGN text. Comments, variations, annotation
// glyphs and escape lines are skipped. At the first error it returns the games
// read until then; the error names game and line.
func ReadPGN(text string) ([]*Game, error) {
	r := pgnReader{scan: pgnScanner{text: strings.TrimPrefix(text, "\ufeff"), line: 1, fresh: true}}
	for {
		more, err := r.readGame()
		if err != nil {
			return r.games, fmt.Errorf("PGN game %d, line %d: %w", len(r.games)+1, r.scan.line, err)
		}
		if !more {
			return r.games, nil
		}
	}
}

// pgnReader builds games from tokens.
type pgnReader struct {
	scan   pgnScanner
	games  []*Game
	game   *Game
	ahead  pgnToken // a token read too far
	behind bool     // ahead holds one
}

func (r *pgnReader) next() (pgnToken, error) {
	if r.behind {
		r.behind = false
		return r.ahead, nil
	}
	return r.scan.next()
}

// readGame reads one game; false if there is none.
func (r *pgnReader) readGame() (bool, error) {
	r.game = NewGame(Start())
	some, err := r.readTags()
	if err != nil {
		return false, err
	}
	for ; ; some = true {
		t, err := r.next()
		if err != nil {
			return false, err
		}
		switch t.kind {
		case pgnEnd, pgnTag:
			r.ahead, r.behind = t, true
			if some {
				r.finish(Result(r.game.Tag("Result")))
			}
			return some, nil
		case pgnResult:
			r.finish(Result(t.text))
			return true, nil
		case pgnMove:
			m, err := r.game.now.ParseSAN(t.text)
			if err != nil {
				return false, err
			}
			r.game.add(m)
		}
	}
}

// readTags reads the tag pairs before the moves and sets up the first position.
func (r *pgnReader) readTags() (some bool, err error) {
	for {
		t, err := r.next()
		if err != nil {
			return some, err
		}
		if t.kind != pgnTag {
			r.ahead, r.behind = t, true
			break
		}
		r.game.SetTag(t.text, t.value)
		some = true
	}
	if fen := r.game.Tag("FEN"); fen != "" {
		start, err := ParseFEN(fen)
		if err != nil {
			return some, fmt.Errorf("tag FEN: %w", err)
		}
		tags := r.game.Tags
		r.game = NewGame(start)
		r.game.Tags = tags
	}
	return some, nil
}

// finish closes the game with the result the text gives. A result that the
// position itself does not show is taken as agreed outside the moves.
func (r *pgnReader) finish(result Result) {
	g := r.game
	if o := g.Outcome(); !o.Over() && (result == WhiteWins || result == BlackWins || result == Draw) {
		g.ended = Outcome{Result: result}
	}
	r.games = append(r.games, g)
}
