// SPDX-License-Identifier: Apache-2.0

package host

import (
	"fmt"
	"slices"
	"strings"

	"boardhand/internal/chess"
	"boardhand/internal/notice"
	"boardhand/internal/table/journal"
	"boardhand/internal/table/places"
	"boardhand/internal/web"
)

const looking = "Thank you. I am looking."

// situation is what is said to the guest and asked of them. To a visitor, whose
// hand is known, it says what is left to be done. The caller holds mu.
func (h *Host) situation() (string, []notice.Act) {
	n := h.notice
	if h.o.Seat != AtThePage || h.handsOff() != nil {
		return n.Text, few(n.Acts)
	}
	now := h.hand.board(h.standing)
	if h.state == journal.Guesting || h.state == journal.Reading {
		return h.atTheMove(now)
	}
	if len(n.Acts) > 0 {
		left := slices.DeleteFunc(slices.Clone(n.Acts), func(a notice.Act) bool { return isDone(a, now) })
		if len(left) == 0 && h.acted {
			return looking, nil
		}
		return n.Text, few(left)
	}
	if g, ok := h.goal(); ok && n.Kind == notice.PleaseMend {
		if a := Acts(now, g.board); len(a) <= mostWanted {
			return "Please " + backWords(a) + ".", nil
		}
	} else if n.Kind == notice.PleaseMend && h.acted {
		return looking, nil
	}
	return n.Text, nil
}

// atTheMove is the situation while the guest is to move.
func (h *Host) atTheMove(now board) (string, []notice.Act) {
	n, on := h.notice, HalfwayTo(h.pos, now)
	switch m := on.Move; {
	case now == h.standing.Board && isAsking(n) && h.acted:
		return looking, nil
	case now == h.standing.Board:
		return n.Text, few(n.Acts)
	case on.IsSome && m == 0: // several moves begin so
		return n.Text, nil
	case on.IsSome && len(on.Left) == 0:
		if isAsking(n) && h.acted {
			return looking, nil
		}
		return n.Text, nil
	case on.IsSome && h.pos.IsCastling(m):
		from, to := h.pos.RookMove(m)
		if now[from] == h.pos.At(from) {
			return fmt.Sprintf("You are castling: now put the rook from %s on %s.", from, to), on.Left
		}
		return n.Text, on.Left
	case on.IsSome && m.Promotion() != chess.NoKind && now[m.To()].Kind() == chess.Pawn:
		return fmt.Sprintf("Your pawn has reached %s: exchange it for the piece it becomes.", m.To()), nil
	case on.IsSome:
		if _, at := h.pos.Captured(m); at != m.To() && at < chess.NoSquare && now[at] != chess.NoPiece {
			return fmt.Sprintf("En passant: now take the pawn on %s off the board.", at), on.Left
		}
		return n.Text, nil
	}
	if a := Acts(now, h.standing.Board); isAsking(n) && len(a) <= mostWanted {
		return "That is not a legal move. Please " + backWords(a) + ", or play another move.", nil
	}
	return n.Text, nil
}

func isDone(a notice.Act, now board) bool {
	return (a.To >= chess.NoSquare || now[a.To] == a.Piece) && (a.From >= chess.NoSquare || now[a.From] != a.Piece)
}

func few(all []notice.Act) []notice.Act {
	if len(all) > mostWanted {
		return nil
	}
	return all
}

// backWords says what is to be put back: "put the white rook back on a1".
func backWords(all []notice.Act) string {
	words := make([]string, len(all))
	for i, a := range all {
		switch {
		case a.To < chess.NoSquare:
			words[i] = fmt.Sprintf("put the %v back on %s", a.Piece, a.To)
		default:
			words[i] = fmt.Sprintf("take the %v off %s", a.Piece, a.From)
		}
	}
	if n := len(words); n > 1 {
		return strings.Join(words[:n-1], ", ") + " and " + words[n-1]
	}
	return strings.Join(words, "")
}

// Wanted are acts as the page shows them.
func Wanted(all []notice.Act) []web.Asked {
	out := []web.Asked{}
	for _, a := range all {
		one := web.Asked{From: web.Off, To: web.Off, Piece: string(a.Piece.Letter())}
		if a.From < chess.NoSquare {
			one.From = a.From.String()
		}
		if a.To < chess.NoSquare {
			one.To = a.To.String()
		}
		if one.From != one.To {
			out = append(out, one)
		}
	}
	return out
}

// goal is what the visitor's hand may set the board to.
type goal struct {
	board board
	fen   string
	text  string // of the button
}

// goal is what one button would set the board to, if it stands otherwise and
// that is asked or needed. The caller holds mu.
func (h *Host) goal() (goal, bool) {
	n, now := h.notice, h.hand.board(h.standing)
	if n.Kind == notice.PleaseMend && len(n.Acts) == 0 || len(n.Acts) > mostWanted {
		pos, err := chess.ParseFEN(n.FEN)
		if err != nil {
			return goal{}, false
		}
		g := goal{places.StandingOf(pos).Board, n.FEN, "Put it back for me"}
		if len(n.Acts) > 0 || len(Acts(now, g.board)) > mostWanted {
			g.text = "Set the pieces as asked"
		}
		return g, g.board != now
	}
	lost := (h.state == journal.Guesting || h.state == journal.Reading) && h.unseen >= patienceWithUnseen
	back := withDone(h.standing.Board, now, n.Acts)
	return goal{back, h.fenOf(back), "Put it back for me"}, now != back && (isAsking(n) || lost)
}

// withDone is a board with those acts on it that have been done already: they
// are not put back.
func withDone(b, now board, asked []notice.Act) board {
	for _, a := range asked {
		if !isDone(a, now) {
			continue
		}
		if a.From < chess.NoSquare {
			b[a.From] = now[a.From]
		}
		if a.To < chess.NoSquare {
			b[a.To] = a.Piece
		}
	}
	return b
}

// fenOf is a board as a FEN for a hand to set.
func (h *Host) fenOf(b board) string {
	if places.StandingOf(h.pos).Board == b {
		return h.pos.FEN()
	}
	placement, _, _ := strings.Cut(places.Standing{Board: b}.String(), " ")
	return placement + " w - - 0 1"
}

// wantedBoard is the board as the game has it or, while a person is asked to set up many
// pieces, as it is to become.
func wantedBoard(n notice.Notice, s journal.State, is places.Standing) board {
	if (s == journal.Arranging || s == journal.Removal) && n.Kind == notice.PleaseMend && len(n.Acts) != 1 {
		if pos, err := chess.ParseFEN(n.FEN); err == nil {
			return places.StandingOf(pos).Board
		}
	}
	return is.Board
}

// phantoms are the pieces as the game has them where the hand has left
// something else. The caller holds mu.
func (h *Host) phantoms() []web.Phantom {
	out := []web.Phantom{}
	now := h.hand.board(h.standing)
	for q, p := range wantedBoard(h.notice, h.state, h.standing) {
		if p != chess.NoPiece && p != now[q] {
			out = append(out, web.Phantom{Piece: string(p.Letter()), Square: chess.Square(q).String()})
		}
	}
	return out
}
