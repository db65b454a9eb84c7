// SPDX-License-Identifier: Apache-2.0

package table

import (
	"context"
	"fmt"
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/notice"
	"boardhand/internal/table/places"
)

// askBack asks for pieces that somebody took out of the tray: the machine
// cannot set them up, or promote to them, when they are gone.
func (t *Table) askBack(ctx context.Context) error {
	for len(t.m.Taken) > 0 {
		m := t.m.Taken[0]
		t.m.Taken = t.m.Taken[1:]
		if err := t.askSlot(ctx, m); err != nil {
			return err
		}
	}
	return nil
}

// askSlot asks for one of them.
func (t *Table) askSlot(ctx context.Context, m places.Beside) error {
	at, _ := t.m.Layout.SpotOf(m.Place)
	err := t.askFor(ctx, places.Way{Piece: m.Piece, From: places.Person, To: m.Place}, notice.Notice{Kind: notice.PleasePut, Piece: m.Piece, Slot: &at, FEN: t.m.BoardFEN(),
		Text: fmt.Sprintf("Please put the %v back into %s.", m.Piece, m.Place.Words(len(t.m.Layout.Slots))),
		Acts: []notice.Act{{Piece: m.Piece, From: chess.NoSquare, To: chess.NoSquare}}})
	if slices.Contains(t.m.Now.Beside, m) {
		t.m.Vouched[m.Place] = true // asked for once, even where the pictures disagree about it
	}
	return err
}
