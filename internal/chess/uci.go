// SPDX-License-Identifier: Apache-2.0

package chess

import (
	"fmt"
	"strings"
)

// ParseUCI reads a legal move in the form "e2e4", "e7e8q", "e1g1" (castling).
func (p *Position) ParseUCI(text string) (Move, error) {
	if len(text) != 4 && len(text) != 5 {
		return 0, fmt.Errorf("move %q: two squares and, for a promotion, one of q r b n are needed, as in e2e4 or e7e8q", text)
	}
	from, err := parseSquare(text[:2])
	if err != nil {
		return 0, fmt.Errorf("move %q: %w", text, err)
	}
	to, err := parseSquare(text[2:4])
	if err != nil {
		return 0, fmt.Errorf("move %q: %w", text, err)
	}
	promotion := NoKind
	if len(text) == 5 {
		k := strings.IndexByte("nbrq", text[4])
		if k < 0 {
			return 0, fmt.Errorf("move %q: a pawn is promoted to q, r, b or n; got %q", text, text[4])
		}
		promotion = Knight + Kind(k)
	}
	m := MakeMove(from, to, promotion)
	if !p.Legal(m) {
		return 0, fmt.Errorf("move %q is not legal: %s", text, p.whyNot(m))
	}
	return m, nil
}

// whyNot says in a few words why m is not legal.
func (p *Position) whyNot(m Move) string {
	piece, to := p.board[m.From()], p.board[m.To()]
	needsKind := piece.Kind() == Pawn && (m.To().Rank() == 0 || m.To().Rank() == 7)
	switch {
	case piece == NoPiece:
		return fmt.Sprintf("%s is empty", m.From())
	case piece.Color() != p.side:
		return fmt.Sprintf("it is %s's move and the %s on %s is the opponent's", p.side, piece.Kind(), m.From())
	case to != NoPiece && to.Color() == p.side:
		return fmt.Sprintf("%s's own %s stands on %s", p.side, to.Kind(), m.To())
	case needsKind && m.Promotion() == NoKind:
		return "the pawn must be promoted: add q, r, b or n"
	case !needsKind && m.Promotion() != NoKind:
		return "only a pawn on the last rank is promoted"
	case piece.Kind() == King && m.From()&^7 == m.To()&^7 && (m.From()-m.To() == 2 || m.To()-m.From() == 2):
		return p.whyNotCastle(m)
	case !p.reaches(m):
		return fmt.Sprintf("the %s on %s does not reach %s", piece.Kind(), m.From(), m.To())
	}
	return fmt.Sprintf("%s's king would be in check", p.side)
}

// whyNotCastle says why the king may not castle by m.
func (p *Position) whyNotCastle(m Move) string {
	rook, over := p.RookMove(m)
	right, name := whiteShort, "kingside"
	if m.To().File() == 2 {
		right, name = whiteLong, "queenside"
	}
	king := p.KingSquare(p.side)
	way := between[m.From()][rook&63]
	switch {
	case m.From().File() != 4 || p.castle&(right<<(2*p.side)) == 0:
		return fmt.Sprintf("%s has no right to castle %s: king or rook has moved", p.side, name)
	case way&p.Occupied() != 0:
		return fmt.Sprintf("%s cannot castle: a piece stands on %s", p.side, (way & p.Occupied()).First())
	case p.InCheck():
		return fmt.Sprintf("%s cannot castle out of check", p.side)
	case p.attacked(over, p.side.Other(), p.Occupied()):
		return fmt.Sprintf("%s's king on %s cannot castle across %s, which is attacked", p.side, king, over)
	}
	return fmt.Sprintf("%s's king would be in check on %s", p.side, m.To())
}

// reaches says whether the piece on the move's from-square moves that way, check
// or not. Castling counts only where it is legal.
func (p *Position) reaches(m Move) bool {
	from, to := m.From(), m.To()
	if p.board[from].Kind() != Pawn {
		return Attacks(p.board[from].Kind(), from, p.Occupied()).Has(to)
	}
	if PawnAttacks(p.side, from).Has(to) {
		return p.board[to] != NoPiece || to == p.passant
	}
	step := from + 8
	home := 1
	if p.side == Black {
		step, home = from-8, 6
	}
	if p.board[step&63] != NoPiece || p.board[to] != NoPiece {
		return false
	}
	return to == step || from.Rank() == home && to == 2*step-from
}
