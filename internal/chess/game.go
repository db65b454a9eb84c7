// SPDX-License-Identifier: Apache-2.0

package chess

import (
	"errors"
	"fmt"
)

// Game is a game from its first position on. Add moves with Push; Moves may be
// read, but a move that is not legal must not be put there.
type Game struct {
	Start Position
	Moves []Move
	Tags  []Tag // for PGN, in any order

	now   Position
	keys  []uint64 // of all positions from Start to now
	ended Outcome  // by resignation, agreement, claim, or as PGN says; zero if not so
}

// NewGame starts a game from a position.
func NewGame(start Position) *Game {
	g := &Game{Start: start}
	g.sync()
	return g
}

// sync brings now and keys up to Moves.
func (g *Game) sync() {
	if len(g.keys) == len(g.Moves)+1 {
		return
	}
	g.now = g.Start
	g.keys = append(g.keys[:0], g.now.Key())
	for _, m := range g.Moves {
		g.now.Make(m)
		g.keys = append(g.keys, g.now.Key())
	}
}

// Position is the position now.
func (g *Game) Position() Position {
	g.sync()
	return g.now
}

// Keys are the keys of all positions from the start to now, for those who must
// know what would repeat.
func (g *Game) Keys() []uint64 {
	g.sync()
	return append([]uint64(nil), g.keys...)
}

// Push adds a move. It refuses an illegal move, and any move once the game is over.
func (g *Game) Push(m Move) error {
	if o := g.Outcome(); o.Over() {
		return fmt.Errorf("move %s cannot be played: the game is over (%s)", m, o)
	}
	if !g.now.Legal(m) {
		return fmt.Errorf("move %s is not legal: %s", m, g.now.whyNot(m))
	}
	g.add(m)
	return nil
}

// add plays a legal move, even in a game that is over.
func (g *Game) add(m Move) {
	g.sync()
	g.now.Make(m)
	g.Moves = append(g.Moves, m)
	g.keys = append(g.keys, g.now.Key())
}

// Before is the position before the last move; the first one if none was made.
func (g *Game) Before() Position {
	p := g.Start
	for _, m := range g.Moves[:max(0, len(g.Moves)-1)] {
		p.Make(m)
	}
	return p
}

// Pop takes back the last move, and any resignation or agreement after it.
func (g *Game) Pop() error {
	if len(g.Moves) == 0 {
		return errors.New("no move to take back: the game is at its start")
	}
	g.ended = Outcome{}
	g.Moves = g.Moves[:len(g.Moves)-1]
	g.sync()
	return nil
}

// Times is how often the position now has appeared, itself included (FIDE 9.2.3).
func (g *Game) Times() int {
	g.sync()
	return g.timesOf(g.now.Key())
}

// timesOf counts a key among the positions since the last irreversible move.
func (g *Game) timesOf(key uint64) int {
	n := 0
	for _, k := range g.keys {
		if k == key {
			n++
		}
	}
	return n
}

// Outcome is how the game stands.
func (g *Game) Outcome() Outcome {
	g.sync()
	if g.ended.Result != "" {
		return g.ended
	}
	return g.now.outcome(g.timesOf(g.now.Key()))
}

// ClaimWith is the draw that the side to move may claim by announcing the legal
// move m, which would bring about the third appearance or complete fifty moves
// (FIDE 9.2.1, 9.3.1); NoReason if none.
func (g *Game) ClaimWith(m Move) Reason {
	g.sync()
	after := g.now.After(m)
	return after.claim(g.timesOf(after.Key()) + 1)
}

// ClaimDraw ends the game with the draw that Outcome says may be claimed.
func (g *Game) ClaimDraw() error {
	o := g.Outcome()
	if o.Over() || o.Claim == NoReason {
		return errors.New("no draw can be claimed: the position has not appeared three times, and fifty moves have not passed without a pawn move or capture")
	}
	g.ended = Outcome{Result: Draw, Reason: o.Claim}
	return nil
}

// Resign ends the game: side c resigns. It is a draw if the opponent has only
// the king, and so cannot mate by any series of moves (FIDE 5.1.2).
func (g *Game) Resign(c Color) error {
	if o := g.Outcome(); o.Over() {
		return fmt.Errorf("%s cannot resign: the game is over (%s)", c, o)
	}
	g.ended = Outcome{Result: Wins(c.Other()), Reason: Resignation}
	if !g.now.ByColor(c.Other()).several() {
		g.ended.Result = Draw
	}
	return nil
}

// AgreeDraw ends the game with a draw both want; both must have moved (FIDE 5.2.3).
func (g *Game) AgreeDraw() error {
	if o := g.Outcome(); o.Over() {
		return fmt.Errorf("no draw can be agreed: the game is over (%s)", o)
	}
	if len(g.Moves) < 2 {
		return errors.New("no draw can be agreed before both sides have moved")
	}
	g.ended = Outcome{Result: Draw, Reason: Agreement}
	return nil
}

// SANs writes the moves of a game from its first position on; never nil.
func (g *Game) SANs() []string {
	out := []string{}
	pos := g.Start
	for _, m := range g.Moves {
		out = append(out, pos.SAN(m))
		pos.Make(m)
	}
	return out
}

// Tag is a tag pair of PGN.
type Tag struct{ Name, Value string }

// Tag is the value of a tag, or "".
func (g *Game) Tag(name string) string {
	for _, t := range g.Tags {
		if t.Name == name {
			return t.Value
		}
	}
	return ""
}

// SetTag sets a tag.
func (g *Game) SetTag(name, value string) {
	for i := range g.Tags {
		if g.Tags[i].Name == name {
			g.Tags[i].Value = value
			return
		}
	}
	g.Tags = append(g.Tags, Tag{name, value})
}

// oddsFiles are the files from which a piece is given as odds: the queen, the queen's
// rook and knight, and the pawn before the king's bishop (H. Staunton, The Chess-Player's
// Handbook, 1847; from memory).
var oddsFiles = map[string]int{"queen": 3, "rook": 0, "knight": 1, "pawn": 5}

// Odds is the first position of a game in which a side gives odds: it plays without the
// piece named.
func Odds(c Color, piece string) (Position, error) {
	file, ok := oddsFiles[piece]
	if !ok {
		return Position{}, fmt.Errorf("odds are a queen, rook, knight or pawn; got %q", piece)
	}
	rank := 0
	if piece == "pawn" {
		rank = 1
	}
	if c == Black {
		rank = 7 - rank
	}
	p, at := Start(), SquareAt(file, rank)
	p.lift(p.At(at), at)
	p.castle &^= lostRights[at]
	p.key = p.computeKey()
	return p, nil
}
