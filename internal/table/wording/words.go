// SPDX-License-Identifier: Apache-2.0

// Package wording has the sentences that a table says to people.
package wording

import (
	"fmt"
	"strings"

	"boardhand/internal/chess"
	"boardhand/internal/notice"
	"boardhand/internal/sight"
	"boardhand/internal/table/places"
)

// NarrowTray is what the guest hears once of bases that do not fit side by side.
const NarrowTray = "In the tray the pieces push one another out of their slots: their bases are wider than the rig file says. " +
	"From now on I leave a slot free beside each. Those that stand askew I will ask for when they are needed; leave them."

// MoveWords says a move in words: "knight from g8 to f6", "castling kingside".
func MoveWords(p chess.Position, m chess.Move) string {
	if m == 0 {
		return "nothing was played"
	}
	piece := p.At(m.From()).Kind()
	if p.IsCastling(m) {
		if m.To().File() > m.From().File() {
			return "castling kingside"
		}
		return "castling queenside"
	}
	s := fmt.Sprintf("%s from %s to %s", piece, m.From(), m.To())
	if victim, at := p.Captured(m); victim != chess.NoPiece {
		s = fmt.Sprintf("%s from %s takes the %s on %s", piece, m.From(), victim.Kind(), m.To())
		if at != m.To() {
			s += " en passant"
		}
	}
	if k := m.Promotion(); k != chess.NoKind {
		s += " and becomes a " + k.String()
	}
	return s
}

// sideName is a player as the Laws of Chess name one.
func sideName(c chess.Color) string {
	if c == chess.White {
		return "White"
	}
	return "Black"
}

// YourMove is what the guest hears when it is their move.
func YourMove(g *chess.Game, machine chess.Color) string {
	pos := g.Position()
	s := "It is your move; you play " + sideName(pos.SideToMove()) + "."
	n := len(g.Moves)
	if n == 0 || pos.SideToMove().Other() != machine {
		return s
	}
	before := g.Before()
	s = "I played " + MoveWords(before, g.Moves[n-1]) + ". Your move."
	if pos.InCheck() {
		s = strings.TrimSuffix(s, "Your move.") + "Check: your move."
	}
	return s
}

// Hint names the piece to move, or the whole move.
func Hint(pos chess.Position, m chess.Move, isWhole bool) notice.Notice {
	n := notice.Notice{Kind: notice.Hint, FEN: pos.FEN(), Squares: []chess.Square{m.From()},
		Text: fmt.Sprintf("Look at your %s on %s.", pos.At(m.From()).Kind(), m.From())}
	if isWhole {
		n.Squares = append(n.Squares, m.To())
		n.Text = fmt.Sprintf("I would play %s. Your move.", MoveWords(pos, m))
	}
	return n
}

// StandInSlot tells a guest where in the tray to stand a piece that they take.
func StandInSlot(slot string) string {
	return fmt.Sprintf(" If you take a piece of mine, stand it in %s.", slot)
}

// MendNotice explains a board that is not a finished move.
func MendNotice(r sight.Reading, pos chess.Position) notice.Notice {
	n := notice.Notice{Kind: notice.PleaseMend, Squares: r.Squares, FEN: pos.FEN()}
	if r.State == sight.Partial {
		if text := halfDone(r, pos); text != "" {
			n.Text = text
			return n
		}
		n.Text = fmt.Sprintf("The move is not finished yet: I see a change on %s.", places.List(r.Squares))
		return n
	}
	if len(r.Squares) == 0 {
		n.Text = "The board differs from the game; please set it as the plan shows."
		return n
	}
	n.Text = fmt.Sprintf("No legal move explains %s. Please set it back, or play another move.", places.List(r.Squares))
	return n
}

// halfDone names what is still to be done when one legal move alone fits.
func halfDone(r sight.Reading, pos chess.Position) string {
	var fit []chess.Move
	for _, m := range pos.LegalMoves(nil) {
		if places.Covers(places.Touched(pos, m), r.Squares) {
			fit = append(fit, m)
		}
	}
	if len(fit) == 0 {
		return ""
	}
	for _, m := range fit[1:] {
		if m.From() != fit[0].From() || m.To() != fit[0].To() {
			return ""
		}
	}
	m := fit[0]
	if pos.IsCastling(m) {
		from, to := pos.RookMove(m)
		return fmt.Sprintf("If you are castling, the king goes to %s and the rook from %s to %s.", m.To(), from, to)
	}
	if victim, at := pos.Captured(m); victim != chess.NoPiece && at != m.To() {
		return fmt.Sprintf("En passant: please take the pawn on %s off the board.", at)
	}
	if m.Promotion() != chess.NoKind {
		return fmt.Sprintf("Your pawn reaches %s: please exchange it for the piece you want.", m.To())
	}
	return fmt.Sprintf("I see the beginning of %s; please finish it.", MoveWords(pos, m))
}

// FinishOwnMove asks the guest to finish the machine's own move.
func FinishOwnMove(p chess.Position, m chess.Move) string {
	if k := m.Promotion(); k != chess.NoKind {
		return fmt.Sprintf("Please put a %s on %s in place of my pawn.", chess.MakePiece(p.SideToMove(), k), m.To())
	}
	if p.IsCastling(m) {
		from, to := p.RookMove(m)
		return fmt.Sprintf("I could not finish castling: please put my king on %s and my rook from %s on %s.", m.To(), from, to)
	}
	return fmt.Sprintf("My %s slipped: please put it on %s.", p.At(m.From()).Kind(), m.To())
}

// GameOver tells how the game ended.
func GameOver(o chess.Outcome, machine chess.Color) string {
	switch o.Result {
	case chess.Draw:
		return "The game is drawn: " + string(o.Reason) + ". Thank you for the game."
	case chess.Wins(machine):
		return "The game is over: I win by " + string(o.Reason) + ". Thank you for the game."
	case chess.Wins(machine.Other()):
		return "The game is over: you win by " + string(o.Reason) + ". Well played."
	}
	return "The game stops here."
}

// StartNotice tells what does not fit before the game goes on.
func StartNotice(r sight.Reading, pos chess.Position) notice.Notice {
	n := MendNotice(r, pos)
	n.Kind = notice.PleaseMend
	n.Text = "The board does not show the position yet. Please set it as the plan shows."
	if len(r.Squares) > 0 {
		n.Text = "The board does not show the position yet: please look at " + places.List(r.Squares) + "."
	}
	return n
}

func ReachNotice(want chess.Position, r sight.Reading) notice.Notice {
	n := notice.Notice{Kind: notice.PleaseMend, Squares: r.Squares, FEN: want.FEN(),
		Text: fmt.Sprintf("Please set the board as the plan shows: I see a difference on %s.", places.List(r.Squares))}
	if want.Key() == startKey {
		n.Text = fmt.Sprintf("Please look at %s: the pieces should stand as at the start of a game.", places.List(r.Squares))
	} else if len(r.Squares) > manySquares {
		n.Text = "Please set the board as the plan shows."
	}
	return n
}

var startKey = func() uint64 { p := chess.Start(); return p.Key() }()

// WhichMove offers moves in words.
func WhichMove(moves []chess.Move, pos chess.Position) notice.Question {
	q := notice.Question{Text: "I am not sure what was played. Which is it?"}
	for _, m := range moves {
		q.Choices = append(q.Choices, MoveWords(pos, m))
		q.Moves = append(q.Moves, m)
	}
	q.Choices = append(q.Choices, "none of these")
	q.Moves = append(q.Moves, 0)
	return q
}

// HandOver is what people hear when a hand over the board has the carriage wait.
func HandOver(on []chess.Square) string {
	where := "over the board"
	if len(on) > 0 && len(on) <= fewSquares {
		where = "at " + places.List(on)
	}
	return fmt.Sprintf("I stand still: I see a hand %s. I go on when it is gone.", where)
}

// manySquares is how many squares nobody follows in a sentence: the plan shows them.
const manySquares = 12

// fewSquares is how many squares are worth naming in a sentence.
const fewSquares = 4

// HandStays is what they hear when it stays.
func HandStays(on []chess.Square) string {
	text := "I still see a hand, or a thing, over the board"
	if len(on) > 0 {
		text = "I still see a hand, or a thing, at " + places.List(on)
	}
	return text + ". Please take it away; I have not finished my move."
}

// LiesInWay asks for what was left on the carriage's way.
func LiesInWay(on []chess.Square) string {
	return fmt.Sprintf("Something stands in my way: please clear %s, then I go on.", places.List(on))
}

// GoesOn is what they hear when the carriage goes on after a hand.
const GoesOn = "Thank you. I go on; hands off, please."

// MovedEarly puts a guest right who has moved while the machine was moving.
func MovedEarly(piece chess.Piece, from, to chess.Square) string {
	return fmt.Sprintf("I am still at my move: I have seen the %v go from %v to %v, and take it for your answer once I have finished, if the rules allow it.", piece, from, to)
}
