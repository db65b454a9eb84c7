// SPDX-License-Identifier: Apache-2.0

package hypothesis

import (
	"boardhand/internal/chess"
	"boardhand/internal/sight/scene"
)

// halfDone lists the boards on the way to a move: its pieces at home, in the
// hand, or placed; the captured piece there or gone; a pawn on the last rank not
// yet exchanged.
func halfDone(pos *chess.Position, m chess.Move) []scene.Occupancy {
	t := newTransfer(pos, m)
	var out []scene.Occupancy
	for _, gone := range t.fates() {
		for mover := range t.placings {
			for rook := range t.rookWays() {
				if a, ok := t.board(gone, mover, rook); ok {
					out = append(out, a)
				}
			}
		}
	}
	return out
}

// transfer is a move taken apart into what hands do.
type transfer struct {
	start            scene.Occupancy
	from, to         chess.Square
	placings         []chess.Piece // mover: at home (NoPiece), in the hand (NoPiece), then what may stand on to
	captured         chess.Square  // NoSquare for none
	rookFrom, rookTo chess.Square
	castling         bool
}

const (
	atHome = 0
	inHand = 1
	placed = 2 // and above: other pieces placed
)

func newTransfer(pos *chess.Position, m chess.Move) transfer {
	t := transfer{start: scene.OccupancyOf(pos), from: m.From(), to: m.To(), captured: chess.NoSquare}
	mover := pos.At(m.From())
	t.placings = []chess.Piece{chess.NoPiece, chess.NoPiece, mover}
	for _, a := range pos.Acts(m) {
		switch {
		case a.From == chess.NoSquare:
			t.placings = append(t.placings, a.Piece)
		case a.To == chess.NoSquare && a.Piece.Color() != mover.Color():
			t.captured = a.From
		case a.To < chess.NoSquare && a.From != t.from:
			t.castling, t.rookFrom, t.rookTo = true, a.From, a.To
		}
	}
	return t
}

func (t *transfer) fates() []bool {
	if t.captured == chess.NoSquare {
		return []bool{false}
	}
	return []bool{false, true}
}

func (t *transfer) rookWays() int {
	if t.castling {
		return placed + 1
	}
	return 1
}

// board is the board with the captured piece gone or not, the mover and the
// rook so far on their way; false when two pieces would share a square.
func (t *transfer) board(gone bool, mover, rook int) (scene.Occupancy, bool) {
	a := t.start
	if gone {
		a[t.captured] = chess.NoPiece
	}
	if mover != atHome {
		a[t.from] = chess.NoPiece
	}
	tower := chess.NoPiece
	if rook != atHome {
		tower = a[t.rookFrom]
		a[t.rookFrom] = chess.NoPiece
	}
	if mover >= placed {
		if a[t.to] != chess.NoPiece {
			return a, false
		}
		a[t.to] = t.placings[mover]
	}
	if rook == placed {
		if a[t.rookTo] != chess.NoPiece {
			return a, false
		}
		a[t.rookTo] = tower
	}
	return a, true
}
