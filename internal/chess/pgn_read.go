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

// GameRead is one game of a PGN text, or why it cannot be read.
type GameRead struct {
	N    int // of the game in the text, from 1
	Line int // where it begins or, with Err, where reading it ended
	Game *Game
	Err  error
}

// ReadPGNs reads all games of a PGN text as ReadPGN does, and goes on after one that
// cannot be read: at the next line that begins with the tag Event, which is the first of a
// game by the standard (8.1.1).
func ReadPGNs(text string) (all []GameRead) {
	r := pgnReader{scan: pgnScanner{text: strings.TrimPrefix(text, "\ufeff"), line: 1, fresh: true}}
	for n := 1; ; n++ {
		r.scan.skipBlank()
		one := GameRead{N: n, Line: r.scan.line}
		more, err := r.readGame()
		switch {
		case err != nil:
			one.Line, one.Err = r.scan.line, err
			r.behind = false
			r.scan.skipToEvent()
		case !more:
			return all
		default:
			one.Game = r.games[len(r.games)-1]
		}
		all = append(all, one)
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
	g.Conclude(result)
	r.games = append(r.games, g)
}

// Conclude ends a game with the result that a record of it gives, where the moves do not.
func (g *Game) Conclude(result Result) {
	if o := g.Outcome(); !o.Over() && (result == WhiteWins || result == BlackWins || result == Draw) {
		g.ended = Outcome{Result: result}
	}
}
