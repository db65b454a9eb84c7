// SPDX-License-Identifier: Apache-2.0

// Package model holds what a table knows of its game: the moves, the one under
// way, and where every piece is. It computes; it sees, says and moves nothing.
package model

import (
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/game"
	"boardhand/internal/sight"
	"boardhand/internal/table/journal"
	"boardhand/internal/table/places"
	"boardhand/internal/unit"
)

// Lift says where the magnet is.
type Lift string

// The states of the lift. Homing and the end of a session lower it.
const (
	Lowered Lift = "lowered" // by the full drop: no piece feels it
	Raised  Lift = "raised"  // at the board
)

// Machine is what is known of the machine and does not change.
type Machine struct {
	Side    chess.Color // that the machine plays
	Layout  places.Layout
	Bases   game.ByKind[unit.Length] // diameters
	Carried [2]bool                  // by side: bases with magnets
}

// Model is what the table knows: the game, the move under way, and where every
// piece is on and beside the board. It computes; it sees, says and moves nothing.
type Model struct {
	Machine
	Game     *chess.Game
	Decided  chess.Move                    // chosen and not yet finished on the board; 0: none
	Offsets  map[chess.Square]sight.Offset // of the pieces, as measured last
	Now      places.Standing               // where the pieces are, as the running plan has left them
	Names    places.Names
	Taken    []places.Beside           // out of the tray by somebody; to be asked for
	Vouched  map[places.Place]bool     // where a piece came by a person's word, or was asked for: one that is not seen there is not asked for again, until it was
	Narrow   bool                      // pieces have pushed one another out of slots side by side: their bases are as wide as a slot, or wider
	Askew    []frame.Spot[frame.Board] // where pieces are seen in the tray that stand in no slot's middle
	Shunned  []frame.Spot[frame.Board] // slots about which a person says that a piece stands there, which is not seen in them
	Carriage frame.Spot[frame.Machine]
	Lift     Lift

	number map[chess.Piece]int // of pieces, on and beside the board
}

// NewModel is the model of a game as an earlier session left it.
func NewModel(of Machine, past journal.Past) *Model {
	b := &Model{Machine: of, Game: past.Game, Decided: past.Decided, Lift: Lowered,
		Offsets: map[chess.Square]sight.Offset{}, Names: places.NamesAfter(past.Game), Vouched: map[places.Place]bool{}}
	b.Now = places.StandingOf(b.Game.Position())
	if past.Standing != nil {
		b.Now = past.Standing.Clone()
	}
	if past.Task.Kind == journal.NoTask && !(past.Standing != nil && b.isInMove()) {
		b.Now.Board = places.BoardOf(b.Game.Position())
	}
	b.number = b.Now.Count()
	return b
}

// isInMove says whether the pieces are kept as the decided move has left them
// so far: each square it touches as before it, as after it or empty, all others
// as in the game.
func (b *Model) isInMove() bool {
	if b.Decided == 0 {
		return false
	}
	pos, next := b.Game.Position(), b.After()
	of := places.Touched(pos, b.Decided)
	for q, p := range b.Now.Board {
		s := chess.Square(q)
		if p != pos.At(s) && (!slices.Contains(of, s) || p != next.At(s) && p != chess.NoPiece) {
			return false
		}
	}
	return true
}

// IsMachinesTurn says whether the machine is to move.
func (b *Model) IsMachinesTurn() bool {
	pos := b.Game.Position()
	return pos.SideToMove() == b.Side
}

// LastMove is the last move of the game, 0 for none.
func (b *Model) LastMove() chess.Move {
	if n := len(b.Game.Moves); n > 0 {
		return b.Game.Moves[n-1]
	}
	return 0
}

// After is the position once the decided move is finished.
func (b *Model) After() chess.Position { return b.AfterAll([]chess.Move{b.Decided}) }

// AfterAll is the position after some moves.
func (b *Model) AfterAll(moves []chess.Move) chess.Position {
	pos := b.Game.Position()
	for _, m := range moves {
		pos = pos.After(m)
	}
	return pos
}

// Differing lists the squares on which the plan so far differs from the game's position.
func (b *Model) Differing() []chess.Square {
	pos := b.Game.Position()
	var out []chess.Square
	for q := chess.Square(0); q < chess.NoSquare; q++ {
		if b.Now.Board[q] != pos.At(q) {
			out = append(out, q)
		}
	}
	return out
}

// BoardFEN is the board as the plan has left it; whose turn it is and the rest
// are of no account to somebody who moves the pieces.
func (b *Model) BoardFEN() string { return places.Placement(b.Now.Board) + " w - - 0 1" }

// FENWhen is the board once a piece has come to the end of its way.
func (b *Model) FENWhen(w places.Way) string {
	after := b.Now.Clone()
	after.Move(w.Piece, w.From, w.To)
	return places.Placement(after.Board) + " w - - 0 1"
}

// Agree sets the board to what was seen, with no piece on its way; no piece vanishes.
func (b *Model) Agree(pos chess.Position) {
	b.Now.Way = nil
	b.Now.Agree(places.BoardOf(pos), b.number)
	b.number = b.Now.Count()
}

// CanPlay says whether the pieces of a side hold magnets.
func (s Machine) CanPlay(side string) bool {
	c := chess.Black
	if side == "white" {
		c = chess.White
	}
	return s.Carried[c]
}
