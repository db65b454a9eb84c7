// SPDX-License-Identifier: Apache-2.0

package table

import (
	"errors"
	"fmt"
	"strings"

	"boardhand/internal/chess"
	"boardhand/internal/notice"
	"boardhand/internal/sight"
)

var errNoPiece = errors.New("the piece was not seen")

// moveWords says a move in words: "knight from g8 to f6", "castles king's side".
func moveWords(p chess.Position, m chess.Move) string {
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

// yourMoveSentence is what the guest hears when it is their move.
func yourMoveSentence(g *chess.Game, machine chess.Color) string {
	pos := g.Position()
	s := fmt.Sprintf("It is your move; you play %v.", pos.SideToMove())
	n := len(g.Moves)
	if n == 0 || pos.SideToMove().Other() != machine {
		return s
	}
	before := g.Before()
	s = "I played " + moveWords(before, g.Moves[n-1]) + ". Your move."
	if pos.InCheck() {
		s = strings.TrimSuffix(s, "Your move.") + "Check: your move."
	}
	return s
}

// mendNotice explains a board that is not a finished move.
func mendNotice(r sight.Reading, pos chess.Position) notice.Notice {
	n := notice.Notice{Kind: notice.PleaseMend, Squares: r.Squares, FEN: pos.FEN()}
	if r.State == sight.Partial {
		if text := halfDone(r, pos); text != "" {
			n.Text = text
			return n
		}
		n.Text = fmt.Sprintf("The move is not finished yet: I see a change on %s.", list(r.Squares))
		return n
	}
	if len(r.Squares) == 0 {
		n.Text = "The board differs from the game; please set it as the plan shows."
		return n
	}
	n.Text = fmt.Sprintf("No legal move explains %s. Please set it back, or play another move.", list(r.Squares))
	return n
}

// halfDone names what is still to be done when one legal move alone fits.
func halfDone(r sight.Reading, pos chess.Position) string {
	var fit []chess.Move
	for _, m := range pos.LegalMoves(nil) {
		if covers(touched(pos, m), r.Squares) {
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
	return fmt.Sprintf("I see the beginning of %s; please finish it.", moveWords(pos, m))
}

// touched lists the squares whose pieces a move changes.
func touched(p chess.Position, m chess.Move) []chess.Square {
	out := []chess.Square{m.From(), m.To()}
	if p.IsCastling(m) {
		from, to := p.RookMove(m)
		out = append(out, from, to)
	}
	if victim, at := p.Captured(m); victim != chess.NoPiece && at != m.To() {
		out = append(out, at)
	}
	return out
}

func covers(all, some []chess.Square) bool {
	for _, s := range some {
		found := false
		for _, a := range all {
			found = found || a == s
		}
		if !found {
			return false
		}
	}
	return len(some) > 0
}

// list says "e4", "e2 and e4", "e2, e3 and e4".
func list(squares []chess.Square) string {
	switch n := len(squares); n {
	case 0:
		return "the board"
	case 1:
		return squares[0].String()
	default:
		var parts []string
		for _, s := range squares[:n-1] {
			parts = append(parts, s.String())
		}
		return strings.Join(parts, ", ") + " and " + squares[n-1].String()
	}
}

// mendOwnSentence asks the guest to finish the machine's own move.
func mendOwnSentence(p chess.Position, m chess.Move) string {
	if k := m.Promotion(); k != chess.NoKind {
		return fmt.Sprintf("Please put a %s on %s in place of my pawn.", chess.MakePiece(p.SideToMove(), k), m.To())
	}
	if p.IsCastling(m) {
		from, to := p.RookMove(m)
		return fmt.Sprintf("I could not finish castling: please put my king on %s and my rook from %s on %s.", m.To(), from, to)
	}
	return fmt.Sprintf("My %s slipped: please put it on %s.", p.At(m.From()).Kind(), m.To())
}

// overSentence tells how the game ended.
func overSentence(o chess.Outcome, machine chess.Color) string {
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
