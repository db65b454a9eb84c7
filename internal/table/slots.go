package table

import (
	"context"
	"errors"
	"fmt"

	"boardhand/internal/chess"
	"boardhand/internal/notice"
)

// inspectSlots brings the pieces in the tray in step with the last picture: a
// piece that somebody took out of its slot is with a person, one that moved to
// another slot stands there.
func (t *Table) inspectSlots() {
	if len(t.s.Slots) == 0 {
		return
	}
	seen := t.p.Eye.Present(t.s.Slots)
	held := map[Place]chess.Piece{}
	for _, b := range t.now.Beside {
		if b.Place >= Slot {
			held[b.Place] = b.Piece
		}
	}
	var missing []Beside
	var found []int
	for k, p := range seen {
		piece, is := held[Slot+Place(k)]
		switch {
		case !p.Open:
		case is && nats(p, chess.NoPiece) > nats(p, piece)+leadNats:
			missing = append(missing, Beside{piece, Slot + Place(k)})
		case !is && p.Belief > 1-1.0/sureOdds:
			found = append(found, k)
		}
	}
	for _, m := range missing {
		to := Person
		if len(missing) == 1 && len(found) == 1 && seen[found[0]].Side == m.Piece.Color() {
			to = Slot + Place(found[0])
		}
		t.move(m.Piece, m.Place, to)
		if to == Person {
			t.taken = append(t.taken, m)
		}
	}
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

func (t *Table) askSlot(ctx context.Context, m Beside) error {
	working := t.state
	at, _ := t.spotOf(m.Place)
	n := notice.Notice{Kind: notice.PleasePut, Piece: m.Piece, Slot: &at, FEN: t.boardFEN(),
		Text: fmt.Sprintf("Please put the %v back into %s.", m.Piece, m.Place.words(len(t.s.Slots))),
		Acts: []notice.Act{{Piece: m.Piece, From: chess.NoSquare, To: chess.NoSquare}}}
	if err := t.enter(ctx, Turn{Removal, Record{What: Requested, Said: n.Text, Piece: m.Piece, To: m.Place}}); err != nil {
		return err
	}
	if err := t.tell(ctx, n); err != nil {
		return err
	}
	w := Way{m.Piece, Person, m.Place}
	for {
		is, _, err := t.lookFor(ctx, w)
		if errors.Is(err, errRight) { // they keep it
			return t.enter(ctx, to(working, RequestDone))
		}
		if err != nil {
			return err
		}
		if is == arrived {
			t.move(m.Piece, Person, m.Place)
			return t.enter(ctx, to(working, RequestDone))
		}
	}
}
