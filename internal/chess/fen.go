// SPDX-License-Identifier: Apache-2.0

package chess

import (
	"fmt"
	"strconv"
	"strings"
)

// ParseFEN reads a position that a game can be at: as ParseSetUp does, and it refuses too what
// Unreachable finds.
func ParseFEN(text string) (Position, error) {
	p, err := ParseSetUp(text)
	if err != nil {
		return p, err
	}
	if err := Unreachable(&p); err != nil {
		return Position{}, fmt.Errorf("FEN %q: %w", text, err)
	}
	return p, nil
}

// ParseSetUp reads a position that somebody may have set up on a board, in Forsyth–Edwards
// notation. The counters at its end may be left out; they are 0 and 1 then. It refuses what the
// rules cannot run on: a side without exactly one king, pawns on the first or last rank, the side
// not to move in check, castling rights without king and rook at home, an en passant square
// without its pawn.
func ParseSetUp(text string) (Position, error) {
	fields := strings.Fields(text)
	if len(fields) < 4 || len(fields) > 6 {
		return Position{}, fmt.Errorf("a FEN has six fields (pieces, side, castling, en passant, half-move clock, move number), of which the last two may be left out; got %d in %q", len(fields), text)
	}
	fields = append(fields, []string{"0", "1"}[len(fields)-4:]...)
	p, err := parsePlacement(fields)
	if err != nil {
		return Position{}, fmt.Errorf("FEN %q: %w", text, err)
	}
	if p.half, err = parseCounter(fields[4], "half-move clock", 0); err != nil {
		return Position{}, fmt.Errorf("FEN %q: %w", text, err)
	}
	if p.full, err = parseCounter(fields[5], "move number", 1); err != nil {
		return Position{}, fmt.Errorf("FEN %q: %w", text, err)
	}
	return p, nil
}

// parsePlacement reads the first four fields, which FEN and EPD share.
func parsePlacement(fields []string) (Position, error) {
	p := Position{full: 1, passant: NoSquare, takeable: NoSquare}
	if err := p.parsePieces(fields[0]); err != nil {
		return Position{}, err
	}
	switch fields[1] {
	case "w":
		p.side = White
	case "b":
		p.side = Black
	default:
		return Position{}, fmt.Errorf("the side to move must be w or b; got %q", fields[1])
	}
	if err := p.checkPieces(); err != nil {
		return Position{}, err
	}
	if err := p.parseRights(fields[2]); err != nil {
		return Position{}, err
	}
	if err := p.parsePassant(fields[3]); err != nil {
		return Position{}, err
	}
	p.findTakeable()
	p.key = p.computeKey()
	return p, nil
}

// parsePieces reads the first field: eight ranks from the eighth down.
func (p *Position) parsePieces(field string) error {
	set, err := Kinds.ParsePlacement(Board, field)
	for s, piece := range set {
		if piece != NoPiece {
			p.put(piece, Square(s))
		}
	}
	return err
}

// Unreachable says of which pieces of a position there are more than a game can have come to, or nil: pawns, and
// others than promotions account for. Other reasons why no game comes to a position are not looked
// for.
func Unreachable(p *Position) error {
	for c := range Color(2) {
		count := func(k Kind) int { return p.Pieces(c, k).Count() }
		promoted := max(count(Queen)-1, 0) + max(count(Rook)-2, 0) + max(count(Bishop)-2, 0) + max(count(Knight)-2, 0)
		switch {
		case count(Pawn) > 8:
			return fmt.Errorf("%s must have at most 8 pawns; got %d", c, count(Pawn))
		case promoted > 8-count(Pawn):
			return fmt.Errorf("%s has %d pieces beyond the first set, but no more than %d can have been promoted", c, promoted, 8-count(Pawn))
		}
	}
	return nil
}

// checkPieces refuses pieces that the rules cannot run on.
func (p *Position) checkPieces() error {
	for c := range Color(2) {
		if n := p.Pieces(c, King).Count(); n != 1 {
			return fmt.Errorf("%s must have one king; got %d", c, n)
		}
	}
	if p.kinds[Pawn]&(rank1|rank8) != 0 {
		return fmt.Errorf("a pawn stands on %s: pawns stand on ranks 2 to 7", (p.kinds[Pawn] & (rank1 | rank8)).First())
	}
	them := p.side.Other()
	if p.attacked(p.KingSquare(them), p.side, p.Occupied()) {
		return fmt.Errorf("it is %s's move, but %s's king on %s is in check", p.side, them, p.KingSquare(them))
	}
	return nil
}

// rightNames are the letters of the castling field, in the order of rights.
const rightNames = "KQkq"

// parseRights reads the castling field.
func (p *Position) parseRights(field string) error {
	if field == "-" {
		return nil
	}
	for _, c := range field {
		i := strings.IndexRune(rightNames, c)
		if i < 0 || p.castle&(1<<i) != 0 {
			return fmt.Errorf("castling rights are - or some of KQkq, each once; got %q", field)
		}
		p.castle |= 1 << i
		side, king := Color(i/2), Square(4+56*(i/2))
		rook := king + 3 - Square(i%2)*7
		if p.board[king] != MakePiece(side, King) || p.board[rook] != MakePiece(side, Rook) {
			return fmt.Errorf("castling right %c needs %s's king on %s and rook on %s", c, side, king, rook)
		}
	}
	if field == "" {
		return fmt.Errorf("castling rights are - or some of KQkq")
	}
	return nil
}

// parsePassant reads the en passant field.
func (p *Position) parsePassant(field string) error {
	if field == "-" {
		return nil
	}
	s, err := parseSquare(field)
	if err != nil {
		return fmt.Errorf("en passant square: %w", err)
	}
	rank := 5 - 3*int(p.side)
	if s.Rank() != rank {
		return fmt.Errorf("en passant square %s: with %s to move it is on rank %d", s, p.side, rank+1)
	}
	from, to := s+8, s^8
	if p.side == Black {
		from = s - 8
	}
	if p.board[to] != MakePiece(p.side.Other(), Pawn) || p.board[s] != NoPiece || p.board[from] != NoPiece {
		return fmt.Errorf("en passant square %s: no %s pawn can just have moved from %s to %s", s, p.side.Other(), from, to)
	}
	p.passant = s
	return nil
}

// parseSquare reads "e4".
func parseSquare(text string) (Square, error) {
	if len(text) != 2 || text[0] < 'a' || text[0] > 'h' || text[1] < '1' || text[1] > '8' {
		return NoSquare, fmt.Errorf("%q is no square: a1 to h8", text)
	}
	return SquareAt(int(text[0]-'a'), int(text[1]-'1')), nil
}

// mostMoves bounds the counters: no game is so long (the 75-move rule).
const mostMoves = 9999

// parseCounter reads a plain number from least to mostMoves.
func parseCounter(field, name string, least int) (uint16, error) {
	n, err := strconv.Atoi(field)
	if err != nil || n < least || n > mostMoves || field[0] == '+' || field[0] == '-' {
		return 0, fmt.Errorf("the %s must be a number from %d to %d; got %q", name, least, mostMoves, field)
	}
	return uint16(n), nil
}

// FEN prints the position. The en passant square is shown after every move of
// two squares by a pawn, as the standard wants, whether or not it can be taken.
func (p *Position) FEN() string {
	return fmt.Sprintf("%s %d %d", p.placement(), p.half, p.full)
}

// placement prints the first four fields.
func (p *Position) placement() string {
	return fmt.Sprintf("%s %c %s %s", Kinds.Placement(Board, p), "wb"[p.side&1], p.castle, p.passant)
}

// String prints the castling field of a FEN.
func (r rights) String() string {
	if r == 0 {
		return "-"
	}
	var b []byte
	for i := range rightNames {
		if r&(1<<i) != 0 {
			b = append(b, rightNames[i])
		}
	}
	return string(b)
}
