// SPDX-License-Identifier: Apache-2.0

package table

import (
	"context"
	"fmt"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/notice"
)

// inspectSlots brings the pieces in the tray in step with the last picture: a
// piece that somebody took out of its slot is with a person, one that moved to
// another slot stands there.
func (t *Table) inspectSlots() {
	if len(t.s.Slots) == 0 {
		return
	}
	var missing []Beside
	for _, b := range t.now.Beside {
		at, ok := t.spotOf(b.Place)
		if !ok || b.Place < Slot {
			continue
		}
		p := t.p.Eye.Present([]frame.Spot[frame.Board]{at})[0]
		if !t.vouched[b.Place] && p.Open && nats(p, chess.NoPiece) > nats(p, b.Piece)+leadNats {
			missing = append(missing, b)
		}
	}
	if len(missing) == 0 {
		return
	}
	found := t.unknownInSlots()
	for _, m := range missing {
		to := Person
		if len(missing) == 1 && len(found) == 1 && found[0].side == m.Piece.Color() {
			to = found[0].at
		}
		t.move(m.Piece, m.Place, to)
		if to == Person {
			t.taken = append(t.taken, m)
		}
	}
}

// occupant is a piece in a slot that should be empty.
type occupant struct {
	at   Place
	side chess.Color
}

// unknownInSlots lists the slots in which a piece is seen that nobody knows of.
func (t *Table) unknownInSlots() (out []occupant) {
	held := map[Place]bool{}
	for _, b := range t.now.Beside {
		held[b.Place] = true
	}
	for k, p := range t.p.Eye.Present(t.s.Slots) {
		if at := Slot + Place(k); p.Open && !held[at] && p.Belief > 1-1.0/sureOdds {
			out = append(out, occupant{at, p.Side})
		}
	}
	return out
}

// askBack asks for pieces that somebody took out of the tray: the machine
// cannot set them up, or promote to them, when they are gone.
func (t *Table) askBack(ctx context.Context) error {
	for len(t.taken) > 0 {
		m := t.taken[0]
		t.taken = t.taken[1:]
		if err := t.askSlot(ctx, m); err != nil {
			return err
		}
	}
	return nil
}

// askSlot asks for one of them.
func (t *Table) askSlot(ctx context.Context, m Beside) error {
	at, _ := t.spotOf(m.Place)
	return t.askFor(ctx, Way{m.Piece, Person, m.Place}, notice.Notice{Kind: notice.PleasePut, Piece: m.Piece, Slot: &at, FEN: t.boardFEN(),
		Text: fmt.Sprintf("Please put the %v back into %s.", m.Piece, m.Place.words(len(t.s.Slots))),
		Acts: []notice.Act{{Piece: m.Piece, From: chess.NoSquare, To: chess.NoSquare}}})
}
