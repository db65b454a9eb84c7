package app

import (
	"boardhand/internal/chess"
	"boardhand/internal/rig"
	"boardhand/internal/sight"
	"boardhand/internal/web"
)

// roster gives each man a name that stays the same as he moves.
type roster struct {
	pos   chess.Position
	names [64]string
	plies int
}

func newRoster(start chess.Position) roster {
	r := roster{pos: start}
	for q := range r.names {
		if start.At(chess.Square(q)) != chess.NoPiece {
			r.names[q] = chess.Square(q).String()
		}
	}
	return r
}

// move follows a move.
func (r *roster) move(m chess.Move) {
	if victim, at := r.pos.Captured(m); victim != chess.NoPiece {
		r.names[at] = ""
	}
	if r.pos.IsCastling(m) {
		from, to := r.pos.RookMove(m)
		r.names[to], r.names[from] = r.names[from], ""
	}
	r.names[m.To()], r.names[m.From()] = r.names[m.From()], ""
	r.pos.Make(m)
	r.plies++
}

func (r *roster) id(q chess.Square) string {
	if q >= chess.NoSquare {
		return ""
	}
	return r.names[q]
}

// men lists all men with their measured places.
func (r *roster) men(pos chess.Position, machine *rig.Rig, offsets []sight.Offset) []web.Man {
	measured := map[chess.Square]sight.Offset{}
	for _, o := range offsets {
		measured[o.Square] = o
	}
	var out []web.Man
	for q := chess.Square(0); q < chess.NoSquare; q++ {
		p := pos.At(q)
		if p == chess.NoPiece {
			continue
		}
		o := measured[q]
		at := web.MM(machine.Board.Centre(q.File(), q.Rank()).Add(o.Delta))
		out = append(out, web.Man{ID: r.id(q), Piece: string(p.Letter()), Square: q.String(), X: at[0], Y: at[1], Sigma: o.Sigma * 1e3})
	}
	return out
}
