// SPDX-License-Identifier: Apache-2.0

package carry

import (
	"context"
	"fmt"

	"boardhand/internal/chess"
)

// Resume plans what is left of a legal move when some of it is done: the
// captured piece is off, one of the castling pieces has gone, a piece was set
// straight. The scene is the table as it was measured just now; pos is the
// position before the move.
func (p *Planner) Resume(ctx context.Context, s Scene, pos chess.Position, m chess.Move) (Plan, error) {
	if !pos.Legal(m) {
		return Plan{}, fmt.Errorf("%v is not a legal move in %s", m, pos.FEN())
	}
	after := pos.After(m)
	if err := between(s, pos, after, m); err != nil {
		return Plan{}, err
	}
	d := p.draft(s)
	if err := d.rest(ctx, &pos, m); err != nil {
		return Plan{}, err
	}
	return p.finish(s, d, &after, func(d *draft) { d.askForRest(&pos, m) })
}

// between says which square is neither as before nor as after the move; a
// pawn not yet exchanged may stand on its last square.
func between(s Scene, before, after chess.Position, m chess.Move) error {
	have, twice := bySquare(s.Pieces)
	if twice < chess.NoSquare {
		return fmt.Errorf("the scene has two pieces on %v: read the board again first", twice)
	}
	for sq := chess.Square(0); sq < 64; sq++ {
		_, taken := before.Captured(m)
		switch h := have[sq]; {
		case h == before.At(sq), h == after.At(sq):
		case sq == m.To() && (h == before.At(m.From()) || h == chess.NoPiece && sq == taken):
		default:
			return fmt.Errorf("the scene has %v on %v, which is no part of %v: read the board again first", h, sq, m)
		}
	}
	return nil
}

// left are the journeys of a move that are still to be made.
func (d *draft) left(pos *chess.Position, m chess.Move) (legs [][2]chess.Square) {
	all := [][2]chess.Square{{m.From(), m.To()}}
	if pos.IsCastling(m) {
		from, to := pos.RookMove(m)
		all = append(all, [2]chess.Square{from, to})
	}
	for _, l := range all {
		if i := d.on(l[0]); i >= 0 && d.pieces[i].Piece == pos.At(l[0]) {
			legs = append(legs, l)
		}
	}
	return legs
}

// rest adds everything that is left of a move.
func (d *draft) rest(ctx context.Context, pos *chess.Position, m chess.Move) error {
	legs := d.left(pos, m)
	if len(legs) == 2 {
		return d.bothWays(ctx, [2][2]chess.Square(legs))
	}
	if i := d.victim(pos, m); i >= 0 {
		if err := d.takeOff(ctx, i); err != nil {
			return err
		}
	}
	for _, l := range legs {
		if err := d.bring(ctx, d.on(l[0]), d.square(l[1])); err != nil {
			return err
		}
	}
	if piece := d.unpromoted(pos, m); piece != chess.NoPiece {
		return d.promote(ctx, m.To(), piece)
	}
	return nil
}

// victim is the captured piece while it still stands, or −1.
func (d *draft) victim(pos *chess.Position, m chess.Move) int {
	piece, sq := pos.Captured(m)
	if i := d.on(sq); i >= 0 && d.pieces[i].Piece == piece {
		return i
	}
	return -1
}

// unpromoted is what the pawn on its last square must become; NoPiece when
// there is nothing to exchange.
func (d *draft) unpromoted(pos *chess.Position, m chess.Move) chess.Piece {
	pawn := pos.At(m.From())
	i := d.on(m.To())
	if m.Promotion() == chess.NoKind || i < 0 || d.pieces[i].Piece != pawn {
		return chess.NoPiece
	}
	return chess.MakePiece(pawn.Color(), m.Promotion())
}

// askForRest has a person do what is left.
func (d *draft) askForRest(pos *chess.Position, m chess.Move) {
	if i := d.victim(pos, m); i >= 0 {
		d.askOff(i)
	}
	for _, l := range d.left(pos, m) {
		d.askMove(d.on(l[0]), d.square(l[1]), "")
	}
	if piece := d.unpromoted(pos, m); piece != chess.NoPiece {
		d.askOn(piece, m.To())
	}
}
