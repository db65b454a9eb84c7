// SPDX-License-Identifier: Apache-2.0

package web

import (
	"math"
	"slices"
	"strings"

	"boardhand/internal/game"
)

// merge lays the parts of e over s. It never writes into slices that s or e
// share with others.
func (s *Event) merge(e Event) {
	text(&s.Sentence, e.Sentence)
	text(&s.State, e.State)
	text(&s.FEN, e.FEN)
	text(&s.Result, e.Result)
	text(&s.LastMove, e.LastMove)
	list(&s.Pieces, e.Pieces)
	list(&s.Wanted, e.Wanted)
	list(&s.Hint, e.Hint)
	list(&s.Phantoms, e.Phantoms)
	list(&s.Running, e.Running)
	list(&s.Legal, e.Legal)
	list(&s.Lanes, e.Lanes)
	list(&s.Lean, e.Lean)
	list(&s.Moves, e.Moves)
	list(&s.Offers, e.Offers)
	part(&s.Carriage, e.Carriage)
	part(&s.Motion, e.Motion)
	part(&s.Reading, e.Reading)
	part(&s.Question, e.Question)
	part(&s.Visitor, e.Visitor)
	part(&s.Machine, e.Machine)
	part(&s.Strength, e.Strength)
	part(&s.Halted, e.Halted)
	part(&s.Hands, e.Hands)
	part(&s.Slow, e.Slow)
	part(&s.Suspicion, e.Suspicion)
	part(&s.Camera, e.Camera)
	part(&s.View, e.View)
	part(&s.BringUp, e.BringUp)
	part(&s.Office, e.Office)
	if e.Picture > s.Picture {
		s.Picture = e.Picture
	}
	s.Log = append(s.Log[:len(s.Log):len(s.Log)], e.Log...)
	if n := len(s.Log) - logKept; n > 0 {
		s.Log = s.Log[n:]
	}
}

func text[T ~string](to *T, from T) {
	if from != "" {
		*to = from
	}
}

func list[T any](to *[]T, from []T) {
	if from != nil {
		*to = from
	}
}

func part[T any](to **T, from *T) {
	if from != nil {
		*to = from
	}
}

// settle returns the pieces after the motion m has ended, and whether one of
// them was carried: it stands where its path ends, or at the carriage if that
// was stopped on the way.
func settle(pieces []Piece, m *Motion, c *Carriage) ([]Piece, bool) {
	if m == nil || m.Carrying == "" || len(m.Path) == 0 {
		return pieces, false
	}
	end := m.Path[len(m.Path)-1]
	stopped := c != nil && math.Hypot(c.X-end[0], c.Y-end[1]) > stoppedShort
	if len(m.PiecePath) > 0 {
		end = m.PiecePath[len(m.PiecePath)-1]
	}
	if stopped {
		end = Place{c.X, c.Y}
	}
	out := slices.Clone(pieces)
	i := slices.IndexFunc(out, func(x Piece) bool { return x.ID == m.Carrying || x.Square == m.Carrying })
	if i < 0 {
		return pieces, false
	}
	out[i].X, out[i].Y = end[0], end[1]
	return out, true
}

// piecesOf returns pieces that stand as the FEN says: those of old that agree stay
// as they are, a vanished piece of the same kind moves to where one is missing,
// the rest are new, in the middle of their squares. Pieces beside the board are
// not among them.
func piecesOf(fen string, old []Piece, square float64) []Piece {
	want := placed(fen)
	var out, loose []Piece
	for _, m := range old {
		switch {
		case m.Square == "":
		case want[m.Square] == m.Piece:
			out = append(out, m)
			delete(want, m.Square)
		default:
			loose = append(loose, m)
		}
	}
	for _, name := range squareNames {
		if letter := want[name]; letter != "" {
			out = append(out, standOn(name, take(&loose, letter, name), square))
		}
	}
	return out
}

// withBeside adds to the pieces on the board those that stood on it or beside it
// before and are missing now: captured pieces, promoted pawns.
func withBeside(pieces, before []Piece) []Piece {
	short := map[string]int{} // by letter: how many are missing
	for _, m := range before {
		short[m.Piece]++
	}
	here := map[string]bool{}
	for _, m := range pieces {
		if m.Square == "" {
			return pieces // the caller keeps them
		}
		short[m.Piece]--
		here[m.ID] = true
	}
	out := slices.Clone(pieces)
	for _, beside := range []bool{true, false} {
		for _, m := range before {
			if (m.Square == "") == beside && short[m.Piece] > 0 {
				short[m.Piece]--
				out = append(out, Piece{ID: freshID(m.ID, here), Piece: m.Piece, Base: m.Base, Height: m.Height})
			}
		}
	}
	return out
}

// freshID is id, or with dashes until nobody here has it, and takes it.
func freshID(id string, here map[string]bool) string {
	for here[id] {
		id += "-"
	}
	here[id] = true
	return id
}

// handled returns the pieces after a visitor's act, or nil if it moves nobody.
func handled(pieces []Piece, act HandAct, side float64) []Piece {
	out := slices.Clone(pieces)
	who := slices.IndexFunc(out, func(m Piece) bool {
		return m.Square == act.From || act.From == Off && m.Square == "" && m.Piece == act.Piece
	})
	if who < 0 && act.From != Off {
		return nil
	}
	if who < 0 {
		here := map[string]bool{}
		for _, m := range out {
			here[m.ID] = true
		}
		out = append(out, Piece{ID: freshID(act.Piece+act.To, here), Piece: act.Piece})
		who = len(out) - 1
	}
	for i := range out {
		if out[i].Square == act.To {
			out[i].Square = ""
		}
	}
	if act.To == Off {
		out[who].Square = ""
	} else {
		out[who] = standOn(act.To, out[who], side)
	}
	return out
}

// take removes a piece of that letter from loose, or makes one.
func take(loose *[]Piece, letter, square string) Piece {
	for i, m := range *loose {
		if m.Piece == letter {
			*loose = append((*loose)[:i:i], (*loose)[i+1:]...)
			return m
		}
	}
	return Piece{ID: letter + square, Piece: letter}
}

// standOn puts the piece on the middle of the square.
func standOn(name string, m Piece, side float64) Piece {
	m.Square, m.Sigma = name, 0
	at := game.Board{Files: 8, Ranks: 8, Square: side}.Centre(game.SquareAt(int(name[0]-'a'), int(name[1]-'1')))
	m.X, m.Y = at.X, at.Y
	return m
}

// placed reads the first field of an FEN; nobody stands on a board that is not to be read.
func placed(fen string) map[string]string {
	pieces := map[string]string{}
	field, _, _ := strings.Cut(fen, " ")
	set, err := game.ChessKinds.ParsePlacement(game.Board{Files: 8, Ranks: 8}, field)
	if err != nil {
		return pieces
	}
	for i, name := range squareNames {
		if p := set.At(game.Square(i)); p != game.NoPiece {
			pieces[name] = string(game.ChessKinds.LetterOf(p))
		}
	}
	return pieces
}

// squareNames are a1, b1, …, h8.
var squareNames = func() (n [64]string) {
	for i := range n {
		n[i] = string([]byte{'a' + byte(i%8), '1' + byte(i/8)})
	}
	return n
}()
