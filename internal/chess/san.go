// SPDX-License-Identifier: Apache-2.0

package chess

import (
	"errors"
	"fmt"
	"strings"

	"boardhand/internal/game"
)

// SAN prints the legal move m in standard algebraic notation as PGN wants it:
// "Nbd7", "exd6", "O-O", "e8=Q+", "Qg7#".
func (p *Position) SAN(m Move) string {
	var b strings.Builder
	piece := p.board[m.From()]
	taken, _ := p.Captured(m)
	switch {
	case p.IsCastling(m) && m.To().File() == 6:
		b.WriteString("O-O")
	case p.IsCastling(m):
		b.WriteString("O-O-O")
	default:
		if piece.Kind() != Pawn {
			b.WriteByte(piece.Kind().Letter())
			b.WriteString(p.tellApart(m))
		} else if taken != NoPiece {
			b.WriteByte('a' + byte(m.From().File()))
		}
		if taken != NoPiece {
			b.WriteByte('x')
		}
		b.WriteString(m.To().String())
		if k := m.Promotion(); k != NoKind {
			b.WriteByte('=')
			b.WriteByte(k.Letter())
		}
	}
	if q := p.After(m); q.InCheck() {
		if q.hasMove() {
			b.WriteByte('+')
		} else {
			b.WriteByte('#')
		}
	}
	return b.String()
}

// hasMove says whether the side to move has a legal move.
func (p *Position) hasMove() bool {
	var buf [256]Move
	return len(p.LegalMoves(buf[:0])) > 0
}

// tellApart is what SAN adds to tell m from legal moves of like pieces to the
// same square: the file if that does, else the rank, else both.
func (p *Position) tellApart(m Move) string {
	var buf [256]Move
	var others, sameFile, sameRank bool
	for _, l := range p.LegalMoves(buf[:0]) {
		if l == m || l.To() != m.To() || p.board[l.From()] != p.board[m.From()] {
			continue
		}
		others = true
		sameFile = sameFile || l.From().File() == m.From().File()
		sameRank = sameRank || l.From().Rank() == m.From().Rank()
	}
	from := m.From().String()
	switch {
	case !others:
		return ""
	case !sameFile:
		return from[:1]
	case !sameRank:
		return from[1:]
	}
	return from
}

// sanMove is a move as the notation gives it: what it does not say is left open.
type sanMove struct {
	kind       Kind
	file, rank int // of the square left, -1 if not said
	to         Square
	promotion  Kind
	castling   bool
}

// ParseSAN reads a legal move in algebraic notation. Beyond what SAN prints it
// takes the forms of the Laws of Chess, appendix C: "0-0", "e8Q", "e.p.", a
// missing "x", any check marks; also long forms ("e2-e4", "Ng1f3") and "!?".
func (p *Position) ParseSAN(text string) (Move, error) {
	s, err := p.readSAN(text)
	if err != nil {
		return 0, fmt.Errorf("move %q: %w", text, err)
	}
	var buf [256]Move
	var found []Move
	for _, m := range p.LegalMoves(buf[:0]) {
		if p.fits(s, m) {
			found = append(found, m)
		}
	}
	switch len(found) {
	case 1:
		return found[0], nil
	case 0:
		return 0, fmt.Errorf("move %q is not legal: %s", text, p.whyNotSAN(s))
	}
	if s.kind == Pawn && s.promotion == NoKind && found[0].Promotion() != NoKind {
		return 0, fmt.Errorf("move %q: the pawn must be promoted: add =Q, =R, =B or =N", text)
	}
	return 0, fmt.Errorf("move %q is ambiguous: %s or %s", text, p.SAN(found[0]), p.SAN(found[1]))
}

// fits says whether m is what s describes.
func (p *Position) fits(s sanMove, m Move) bool {
	if s.kind == Pawn && s.file < 0 && m.From().File() != m.To().File() {
		return false // a pawn that takes must be named by its file
	}
	return p.board[m.From()].Kind() == s.kind && m.To() == s.to &&
		(s.file < 0 || s.file == m.From().File()) && (s.rank < 0 || s.rank == m.From().Rank()) &&
		(s.promotion == NoKind || s.promotion == m.Promotion()) && s.castling == p.IsCastling(m)
}

// whyNotSAN says why no legal move fits s.
func (p *Position) whyNotSAN(s sanMove) string {
	if s.castling {
		return p.whyNotCastle(MakeMove(p.KingSquare(p.side), s.to, NoKind))
	}
	for pieces := p.Pieces(p.side, s.kind); pieces != 0; pieces &= pieces - 1 {
		from := pieces.First()
		m := MakeMove(from, s.to, s.promotion)
		if (s.file < 0 || s.file == from.File()) && (s.rank < 0 || s.rank == from.Rank()) && p.reaches(m) {
			return p.whyNot(m)
		}
	}
	return fmt.Sprintf("no %s %s can move to %s", p.side, s.kind, s.to)
}

var errNotSAN = errors.New("not a move in algebraic notation, as in Nf3, exd5, O-O, e8=Q")

// readSAN takes the notation apart.
func (p *Position) readSAN(text string) (sanMove, error) {
	s := sanMove{kind: Pawn, file: -1, rank: -1}
	t := strings.TrimRight(text, "+#!?")
	t = strings.TrimSuffix(strings.TrimSuffix(t, "e.p."), "ep")
	t = strings.TrimRight(strings.TrimSpace(t), "+#")
	if strings.HasPrefix(t, "O-O") || strings.HasPrefix(t, "0-0") {
		return p.readCastling(t)
	}
	if t != "" && strings.IndexByte("NBRQK", t[0]) >= 0 {
		s.kind = game.KindLettered(rune(t[0]))
		t = t[1:]
	}
	if n := len(t); n > 2 && s.kind == Pawn && game.KindLettered(rune(t[n-1])) > Pawn && game.KindLettered(rune(t[n-1])) < King {
		s.promotion = game.KindLettered(rune(t[n-1]))
		t = strings.TrimSuffix(t[:n-1], "=")
	}
	if len(t) < 2 {
		return s, errNotSAN
	}
	var err error
	if s.to, err = parseSquare(t[len(t)-2:]); err != nil {
		return s, errNotSAN
	}
	return s, s.readOrigin(t[:len(t)-2])
}

// readCastling reads "O-O" or "O-O-O", with letters or zeros.
func (p *Position) readCastling(t string) (sanMove, error) {
	king := p.KingSquare(p.side)
	s := sanMove{kind: King, file: -1, rank: -1, castling: true}
	switch t {
	case "O-O", "0-0":
		s.to = king&^7 | 6
	case "O-O-O", "0-0-0":
		s.to = king&^7 | 2
	default:
		return s, errNotSAN
	}
	return s, nil
}

// readOrigin reads what stands before the square of arrival.
func (s *sanMove) readOrigin(t string) error {
	if n := len(t); n > 0 && (t[n-1] == 'x' || t[n-1] == '-' || t[n-1] == ':') {
		t = t[:n-1]
	}
	if t != "" && t[0] >= 'a' && t[0] <= 'h' {
		s.file, t = int(t[0]-'a'), t[1:]
	}
	if t != "" && t[0] >= '1' && t[0] <= '8' {
		s.rank, t = int(t[0]-'1'), t[1:]
	}
	if t != "" {
		return errNotSAN
	}
	return nil
}
