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
	man, to := p.board[m.From()], p.board[m.To()]
	needsKind := man.Kind() == Pawn && (m.To().Rank() == 0 || m.To().Rank() == 7)
	switch {
	case man == NoPiece:
		return fmt.Sprintf("%s is empty", m.From())
	case man.Color() != p.side:
		return fmt.Sprintf("it is %s's move and the %s on %s is the opponent's", p.side, man.Kind(), m.From())
	case to != NoPiece && to.Color() == p.side:
		return fmt.Sprintf("%s's own %s stands on %s", p.side, to.Kind(), m.To())
	case needsKind && m.Promotion() == NoKind:
		return "the pawn must be promoted: add q, r, b or n"
	case !needsKind && m.Promotion() != NoKind:
		return "only a pawn on the last rank is promoted"
	case !p.reaches(m):
		return fmt.Sprintf("the %s on %s does not reach %s", man.Kind(), m.From(), m.To())
	}
	return fmt.Sprintf("%s's king would be in check", p.side)
}

// reaches says whether the man on the move's from-square moves that way, check
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
