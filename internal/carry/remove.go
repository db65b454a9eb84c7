// SPDX-License-Identifier: Apache-2.0

package carry

import (
	"context"

	"boardhand/internal/game"
	"boardhand/internal/lanes"
)

// takeOff removes a captured piece: by the carriage where the rig has a place
// for it and its base a magnet, else by hand.
func (d *builder) takeOff(ctx context.Context, i int) error {
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
			to := target{lanes.Spot{X: float64(c[0]), Y: float64(c[1])}, game.NoSquare}
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
func (d *builder) toTray(i int) bool {
	for _, s := range d.freeSlots(i) {
		if d.tryCarry(i, target{s, game.NoSquare}) {
			return true
		}
	}
	return false
}

// exchange puts another piece in the place of the one on a square: from the tray
// where one stands there with a magnet, else by asking.
func (d *builder) exchange(ctx context.Context, on game.Act) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	if k := d.inTray(on.Piece); k >= 0 && d.pieces[d.on(on.To)].Magnet {
		try := d.fork()
		if try.toTray(try.on(on.To)) && try.tryCarry(try.inTray(on.Piece), d.square(on.To)) {
			*d = *try
			return nil
		}
	}
	d.askOn(on.Piece, on.To)
	return nil
}

// putOn brings a piece from the tray to its square, else by asking: it was handed
// to a person, or no lane is free.
func (d *builder) putOn(a game.Act) {
	if k := d.inTray(a.Piece); k >= 0 && d.tryCarry(k, d.square(a.To)) {
		return
	}
	d.askOn(a.Piece, a.To)
}

// inTray is a carried piece of that piece beside the board, or −1.
func (d *builder) inTray(piece game.Piece) int {
	for k, m := range d.pieces {
		if m.Square == game.NoSquare && m.Piece == piece && m.Magnet {
			return k
		}
	}
	return -1
}
