// SPDX-License-Identifier: Apache-2.0

package carry

import (
	"context"

	"boardhand/internal/chess"
	"boardhand/internal/lanes"
)

// takeOff removes a captured piece: by the carriage where the rig has a place
// for it and its foot a magnet, else by hand.
func (d *draft) takeOff(ctx context.Context, i int) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	if d.pieces[i].Magnet {
		switch d.p.rig.Removal.Mode {
		case "tray":
			if d.toTray(i) {
				return nil
			}
		case "chute":
			c := d.p.rig.Removal.Chute
			to := target{lanes.Spot{X: float64(c[0]), Y: float64(c[1])}, chess.NoSquare}
			if d.tryCarry(i, to) {
				d.remove(i)
				return nil
			}
		}
	}
	d.askOff(i)
	return nil
}

// toTray carries piece i to the free slot that is quickest now and later, when
// the piece goes home for the next game.
func (d *draft) toTray(i int) bool {
	for _, s := range d.freeSlots(i) {
		if d.tryCarry(i, target{s, chess.NoSquare}) {
			return true
		}
	}
	return false
}

// promote turns the pawn on sq into piece: from the tray where one stands
// there with a magnet, else by asking.
func (d *draft) promote(ctx context.Context, sq chess.Square, piece chess.Piece) error {
	k := d.inTray(piece)
	if k < 0 || !d.pieces[d.on(sq)].Magnet {
		d.askOn(piece, sq)
		return nil
	}
	try := d.fork()
	if try.toTray(try.on(sq)) && try.tryCarry(try.inTray(piece), d.square(sq)) {
		*d = *try
		return nil
	}
	d.askOn(piece, sq)
	return nil
}

// inTray is a carried piece of that piece beside the board, or −1.
func (d *draft) inTray(piece chess.Piece) int {
	for k, m := range d.pieces {
		if m.Square == chess.NoSquare && m.Piece == piece && m.Magnet {
			return k
		}
	}
	return -1
}
