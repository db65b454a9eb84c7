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

// askSlot asks for one of them. Where another has come into its slot since, it is to
// stand in the best that is free; without any it stays with the person.
func (t *Table) askSlot(ctx context.Context, m places.Beside) error {
	at, _ := t.m.Layout.SpotOf(m.Place)
	if t.m.Now.IsHeld(m.Place) {
		scene := t.c.Scene()
		scene.Pieces = append(scene.Pieces, t.m.Piece(m.Piece, chess.NoSquare, at, func(string) bool { return false }))
		spot, ok := t.p.Planner.Mender.SlotFor(scene, len(scene.Pieces)-1)
		if !ok {
			return nil
		}
		at, m.Place = spot, t.m.Layout.PlaceOf(chess.NoSquare, spot)
	}
	err := t.askFor(ctx, places.Way{Piece: m.Piece, From: places.Person, To: m.Place}, notice.Notice{Kind: notice.PleasePut, Piece: m.Piece, Slot: &at, FEN: t.m.BoardFEN(),
		Text: fmt.Sprintf("Please put the %v back into %s.", m.Piece, m.Place.Words(len(t.m.Layout.Slots))),
		Acts: []notice.Act{{Piece: m.Piece, From: chess.NoSquare, To: chess.NoSquare}}})
	if slices.Contains(t.m.Now.Beside, m) {
		t.m.Vouched[m.Place] = true // asked for once, even where the pictures disagree about it
	}
	return err
}
