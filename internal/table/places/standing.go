// SPDX-License-Identifier: Apache-2.0

// Package places says where the pieces of a game are: on squares, in tray slots,
// with a person or down the chute, by name, and as the text that is kept of it.
package places

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"boardhand/internal/chess"
	"boardhand/internal/game"
)

// Place is where a piece may be: a square, a tray slot, or off the machine.
type Place int

// Squares are 0–63; slot k is Slot + k.
const (
	Chute  Place = -2 // down the chute, in the drawer
	Person Place = -1 // handed to a person
	Slot   Place = 64 // the first tray slot
)

// mostSlots bounds what is read: more than any rig file allows.
const mostSlots = 64

// String is the place as it is kept: "e4", "slot3", "person", "chute".
func (p Place) String() string {
	switch {
	case p == Chute:
		return "chute"
	case p < 0:
		return "person"
	case p < Slot:
		return chess.Square(p).String()
	}
	return "slot" + strconv.Itoa(int(p-Slot)+1)
}

func parsePlace(text string) (Place, error) {
	switch text {
	case "person":
		return Person, nil
	case "chute":
		return Chute, nil
	}
	if n, ok := strings.CutPrefix(text, "slot"); ok {
		if k, err := strconv.Atoi(n); err == nil && k >= 1 && k <= mostSlots && n[0] != '0' && n[0] != '+' {
			return Slot + Place(k-1), nil
		}
	}
	if len(text) == 2 && text[0] >= 'a' && text[0] <= 'h' && text[1] >= '1' && text[1] <= '8' {
		return Place(chess.SquareAt(int(text[0]-'a'), int(text[1]-'1'))), nil
	}
	return 0, fmt.Errorf("%q is no place: a square, slot1 …, person or chute", text)
}

// Beside is one piece beside the board.
type Beside struct {
	Piece chess.Piece
	Place Place
}

// Way is a piece being carried.
type Way struct {
	Piece    chess.Piece
	From, To Place
}

// Standing is where all pieces are, on and beside the board. It is kept with the
// game, so that after a break it is known who stands in which slot.
type Standing struct {
	Board  [64]chess.Piece
	Beside []Beside // in the order they came
	Way    *Way     // the piece that was on its way when this was written
	// Offered is the slot in which the guest was told to stand a piece that they take; 0: none.
	Offered Place
}

// StandingOf is a position with nobody beside the board.
func StandingOf(p chess.Position) Standing {
	return Standing{Board: BoardOf(p)}
}

// String is the standing as it is kept: the pieces as in the first field of a
// FEN, then the slot offered, then each piece beside the board, then the one on its
// way: "4k3/8/8/8/8/8/8/4K3 offered@slot7 p@slot3 Q@person p@e5>slot4".
func (s Standing) String() string {
	var b strings.Builder
	b.WriteString(Placement(s.Board))
	if s.Offered >= Slot {
		fmt.Fprintf(&b, " %s@%v", offered, s.Offered)
	}
	for _, m := range s.Beside {
		fmt.Fprintf(&b, " %c@%v", m.Piece.Letter(), m.Place)
	}
	if w := s.Way; w != nil {
		fmt.Fprintf(&b, " %c@%v>%v", w.Piece.Letter(), w.From, w.To)
	}
	return b.String()
}

// Placement is the first field of a FEN.
func Placement(board [64]chess.Piece) string {
	set := game.Setting(board)
	return game.ChessKinds.Placement(field, &set)
}

// ParseStanding reads what String wrote.
func ParseStanding(text string) (Standing, error) {
	words := strings.Split(text, " ")
	board, err := game.ChessKinds.ParsePlacement(field, words[0])
	if err != nil {
		return Standing{}, fmt.Errorf("the kept places of the pieces cannot be read: %w", err)
	}
	s := Standing{Board: board}
	for _, w := range words[1:] {
		if err := s.parsePiece(w); err != nil {
			return Standing{}, fmt.Errorf("the kept places of the pieces cannot be read: %w", err)
		}
	}
	return s, nil
}

// offered stands for a piece where there is none yet.
const offered = "offered"

func (s *Standing) parsePiece(word string) error {
	letter, where, found := strings.Cut(word, "@")
	if letter == offered && found {
		at, err := parsePlace(where)
		if s.Offered = at; err == nil && at < Slot {
			err = fmt.Errorf("%q should look like %s@slot3", word, offered)
		}
		return err
	}
	p, ok := PieceOf(letter)
	if !found || !ok {
		return fmt.Errorf("%q should look like p@slot3", word)
	}
	from, to, way := strings.Cut(where, ">")
	a, err := parsePlace(from)
	if err != nil {
		return err
	}
	if !way {
		s.Beside = append(s.Beside, Beside{p, a})
		return nil
	}
	b, err := parsePlace(to)
	if err != nil {
		return err
	}
	s.Way = &Way{p, a, b}
	return nil
}

// PieceOf is the piece with a letter of the trade, upper case for White.
func PieceOf(letter string) (chess.Piece, bool) {
	for _, c := range [2]chess.Color{chess.White, chess.Black} {
		for _, k := range chess.Kinds.Ascending() {
			if p := chess.MakePiece(c, k); letter == string(p.Letter()) {
				return p, true
			}
		}
	}
	return chess.NoPiece, false
}

// Clone is a copy that shares nothing.
func (s Standing) Clone() Standing {
	s.Beside = slices.Clone(s.Beside)
	return s
}

// Move brings a piece from one place to another; a piece already on a square goes
// to a person.
func (s *Standing) Move(piece chess.Piece, from, to Place) {
	switch i := slices.Index(s.Beside, Beside{piece, from}); {
	case from >= 0 && from < Slot:
		s.Board[from] = chess.NoPiece
	case i >= 0:
		s.Beside = slices.Delete(s.Beside, i, i+1)
	}
	if to < 0 || to >= Slot {
		s.Beside = append(s.Beside, Beside{piece, to})
		return
	}
	if there := s.Board[to]; there != chess.NoPiece {
		s.Beside = append(s.Beside, Beside{there, Person})
	}
	s.Board[to] = piece
}

// IsHeld says whether a piece stands in a place beside the board.
func (s *Standing) IsHeld(at Place) bool {
	return slices.ContainsFunc(s.Beside, func(b Beside) bool { return b.Place == at })
}

// Supply is where a person takes a piece from that is to be put on a square:
// the nearest one of its kind in the tray, else one handed over before, one
// from the drawer, or a spare one from the box.
func (s *Standing) Supply(piece chess.Piece, sq chess.Square, away func(slot int, sq chess.Square) float64) Place {
	best := Person
	for _, m := range s.Beside {
		if m.Piece != piece || m.Place < Slot {
			continue
		}
		if best < Slot || away(int(m.Place-Slot), sq) < away(int(best-Slot), sq) {
			best = m.Place
		}
	}
	if best == Person && !slices.Contains(s.Beside, Beside{piece, Person}) && slices.Contains(s.Beside, Beside{piece, Chute}) {
		return Chute
	}
	return best
}

// Count is how many of each piece there are, on and beside the board.
func (s *Standing) Count() map[chess.Piece]int {
	n := map[chess.Piece]int{}
	for _, p := range s.Board {
		if p != chess.NoPiece {
			n[p]++
		}
	}
	for _, m := range s.Beside {
		n[m.Piece]++
	}
	return n
}

// Agree sets the board to what was seen and keeps the pieces beside it in number:
// none vanishes, and a piece too many is one that a person took back on. before
// counts the pieces as they were when the board was last known.
func (s *Standing) Agree(board [64]chess.Piece, before map[chess.Piece]int) {
	s.Board = board
	have := s.Count()
	for k := len(s.Beside) - 1; k >= 0; k-- { // first what people hold
		if m := s.Beside[k]; m.Place < Slot && have[m.Piece] > before[m.Piece] {
			have[m.Piece]--
			s.Beside = slices.Delete(s.Beside, k, k+1)
		}
	}
	for k := len(s.Beside) - 1; k >= 0; k-- {
		if m := s.Beside[k]; have[m.Piece] > before[m.Piece] {
			have[m.Piece]--
			s.Beside = slices.Delete(s.Beside, k, k+1)
		}
	}
	for _, c := range [2]chess.Color{chess.White, chess.Black} {
		for _, k := range chess.Kinds.Ascending() {
			for p := chess.MakePiece(c, k); have[p] < before[p]; have[p]++ {
				s.Beside = append(s.Beside, Beside{p, Person})
			}
		}
	}
}
