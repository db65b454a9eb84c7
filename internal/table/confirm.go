// SPDX-License-Identifier: Apache-2.0

package table

import (
	"context"
	"errors"
	"fmt"

	"boardhand/internal/carry"
	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/notice"
	"boardhand/internal/sight"
)

// arriveWithin is how far from the middle of a square, as a share of it, a piece
// may stand and still be where it belongs: a base that stands farther off
// reaches over the line.
const arriveWithin = 0.35

// In a slot a piece must stand nearer: nothing remembers where in its slot it
// stands, so later plans count on the middle. Lanes are planned to cope with
// coped, a share of the square; where slots are close together a piece must not
// stand in the way of the next slot's either. Pieces that stood in the middle of
// their slots were measured up to 2.9 mm off (64 pieces, 4 first pictures, the
// twin with 40 mm squares), so that halving both would have good ones fetched.
const (
	coped    = 0.12
	slotPart = 0.25 // of the way to the next slot
)

// room is how far from the middle of a place a piece may stand and still be
// where it belongs, metres.
func (t *Table) room(p Place) float64 {
	if p < Slot {
		return arriveWithin * float64(t.s.Square)
	}
	room, at := coped*float64(t.s.Square), t.s.Slots[p-Slot]
	for k, next := range t.s.Slots {
		if Slot+Place(k) != p {
			room = min(room, slotPart*next.Distance(at))
		}
	}
	return room
}

// sighting is what a picture says of a piece that was carried.
type sighting int

const (
	unseen  sighting = iota // the place cannot be seen, and the piece is nowhere else
	arrived                 // it stands where it was carried to
	stayed                  // it stands where it was taken from
	strayed                 // it stands elsewhere
	gone                    // it is nowhere to be seen
)

// spotOf is the centre of a place on or beside the board; false for a place
// that no picture can show.
func (t *Table) spotOf(p Place) (frame.Spot[frame.Board], bool) {
	switch k := int(p - Slot); {
	case p >= 0 && p < Slot:
		return t.centre(chess.Square(p)), true
	case k >= 0 && k < len(t.s.Slots):
		return t.s.Slots[k], true
	}
	return frame.Spot[frame.Board]{}, false
}

// goalOf is where a piece is carried to: spotOf, or the chute's mouth.
func (t *Table) goalOf(p Place) (frame.Spot[frame.Board], bool) {
	if p == Chute && t.s.Chute != nil {
		return *t.s.Chute, true
	}
	return t.spotOf(p)
}

// stands says whether the last picture shows a piece at a place, and where
// exactly; what it tells is open if the place can be seen.
func (t *Table) stands(piece chess.Piece, p Place) (seen sight.Presence, is bool) {
	at, ok := t.spotOf(p)
	if !ok {
		return seen, false
	}
	seen = t.p.Eye.Present([]frame.Spot[frame.Board]{at})[0]
	return seen, isOf(seen, piece) && seen.Found.Distance(at) < t.room(p)
}

// isOf says whether a piece is seen about the place that was asked.
func isOf(seen sight.Presence, piece chess.Piece) bool {
	return seen.Open && nats(seen, piece) > nats(seen, chess.NoPiece) && nats(seen, piece) > -leadNats
}

// sighted looks for a piece that was carried; the stray says where it is. What
// went down the chute is out of sight, but what was left behind on the way there
// is not.
func (t *Table) sighted(w Way) (sighting, sight.Stray) {
	seen, is := t.stands(w.Piece, w.To)
	if is {
		return arrived, sight.Stray{Side: w.Piece.Color(), At: seen.Found, Sigma: seen.Sigma}
	}
	if !seen.Open && w.To != Chute {
		return unseen, sight.Stray{}
	}
	if there, is := t.stands(w.Piece, w.From); is {
		return stayed, sight.Stray{Side: w.Piece.Color(), At: there.Found, Sigma: there.Sigma}
	}
	if isOf(seen, w.Piece) { // it has nearly arrived
		return strayed, sight.Stray{Side: w.Piece.Color(), At: seen.Found, Sigma: seen.Sigma}
	}
	for _, s := range t.strangers(w.From) {
		if s.Side == w.Piece.Color() {
			return strayed, s
		}
	}
	if w.To == Chute {
		return unseen, sight.Stray{}
	}
	return gone, sight.Stray{}
}

// lookFor takes pictures until two in a row agree on where a piece is that was
// carried; one is enough when it has arrived.
func (t *Table) lookFor(ctx context.Context, w Way) (sighting, sight.Stray, error) {
	last := sighting(-1)
	for {
		if err := t.untilClear(ctx); err != nil {
			return unseen, sight.Stray{}, err
		}
		is, s := t.sighted(w)
		if is == arrived || is == unseen || is == last {
			return is, s, nil
		}
		last = is
	}
}

// confirmCarry looks whether the piece that was just carried stands where it
// belongs. It is fetched where it strayed, carried again where it stayed, and
// asked for when that did not help.
func (t *Table) confirmCarry(ctx context.Context, w Way) error {
	for try := 0; ; try++ {
		is, s, err := t.lookFor(ctx, w)
		switch {
		case errors.Is(err, errRight):
			return t.arriveBy(ctx, w, RequestTrust)
		case err != nil:
			return err
		case is == arrived:
			t.s.Suspects.found(t, w, s)
			return t.arriveBy(ctx, w, CarrySeen)
		case is == unseen:
			return t.arriveBy(ctx, w, CarryEnded)
		}
		t.s.Suspects.missed(t, w, is, s)
		if err := t.record(ctx, Record{State: t.state, What: CarryLost, Piece: w.Piece, From: w.From, To: w.To, JPEG: t.shown.JPEG}); err != nil {
			return err
		}
		if try < mends && !t.s.Suspects.isHopeless(t, w.Piece, w.From) && is != gone {
			ok, err := t.bringAgain(ctx, w, is, s)
			if err != nil {
				return err
			}
			if ok {
				continue
			}
		}
		return t.askToStand(ctx, w)
	}
}

// arriveBy notes that a piece has come to the end of its way, and how that is known.
func (t *Table) arriveBy(ctx context.Context, w Way, how Happening) error {
	t.move(w.Piece, w.From, w.To)
	if t.now.Way = nil; how == RequestTrust {
		t.vouched[w.To] = true
	}
	return t.record(ctx, Record{State: t.state, What: how, Piece: w.Piece, From: w.From, To: w.To})
}

// bringAgain carries a piece on from where it was seen; false when no way is found.
func (t *Table) bringAgain(ctx context.Context, w Way, is sighting, s sight.Stray) (bool, error) {
	scene, i := t.sceneWith(w, is, s)
	goal, ok := t.goalOf(w.To)
	if !ok {
		return false, nil
	}
	m := scene.Pieces[i]
	square := chess.NoSquare
	if w.To < Slot {
		square = chess.Square(w.To)
	}
	rest := []carry.Step{{Do: carry.Carry, Piece: w.Piece, From: m.Square, To: square, PiecePath: []frame.Spot[frame.Board]{m.At, goal}}}
	plan, err := t.p.Planner.Rest(ctx, scene, rest)
	if ctx.Err() != nil {
		return false, ctx.Err()
	}
	if err != nil || plan.Asks() > 0 {
		return false, nil
	}
	what := Fetched
	if is == stayed {
		what = NotFollowed
	}
	if err := t.record(ctx, Record{State: t.state, What: what, Piece: w.Piece, From: w.From, To: w.To}); err != nil {
		return false, err
	}
	t.observe(Event{Plan: &plan, Scene: &scene})
	return true, t.steps(ctx, plan)
}

// steps carries out the steps of a plan that asks nobody, without looking.
func (t *Table) steps(ctx context.Context, plan carry.Plan) error {
	for i, s := range plan.Steps {
		t.observe(Event{Step: &s})
		if err := t.drive(ctx, s); err != nil {
			return fmt.Errorf("step %d of %d (%s): %w", i+1, len(plan.Steps), s.Do, err)
		}
	}
	return nil
}

// sceneWith is the scene with the piece on its way where it was seen, and its
// index there.
func (t *Table) sceneWith(w Way, is sighting, s sight.Stray) (carry.Scene, int) {
	sc := t.scene()
	from, _ := t.spotOf(w.From)
	for i := range sc.Pieces {
		m := &sc.Pieces[i]
		on := w.From < Slot && m.Square == chess.Square(w.From) || w.From >= Slot && m.Square == chess.NoSquare && m.At.Distance(from) < slotReach
		if m.Piece != w.Piece || !on {
			continue
		}
		if is == strayed {
			m.At, m.Sigma, m.Square = s.At, s.Sigma, chess.NoSquare
		}
		return sc, i
	}
	m := t.piece(w.Piece, chess.NoSquare, s.At)
	if is == strayed {
		m.Sigma = s.Sigma
	}
	sc.Pieces = append(sc.Pieces, m)
	return sc, len(sc.Pieces) - 1
}

// askToStand asks a person to stand a piece where it was to be carried.
func (t *Table) askToStand(ctx context.Context, w Way) error {
	return t.askFor(ctx, w, t.standNotice(w))
}

// askFor asks a person, by a notice, for a piece at the end of its way, and waits
// until it is seen there or a person says that it is.
func (t *Table) askFor(ctx context.Context, w Way, n notice.Notice) error {
	working := t.state
	if err := t.request(ctx, n, Record{What: Requested, Said: n.Text, Piece: w.Piece, To: w.To}); err != nil {
		return err
	}
	how, err := t.awaitStanding(ctx, w, n)
	if err != nil {
		return err
	}
	if err := t.arriveBy(ctx, w, how); err != nil {
		return err
	}
	return t.enter(ctx, to(working, RequestDone))
}

// awaitStanding waits until a piece is seen at the end of its way. A place that
// no picture shows is asked about.
func (t *Table) awaitStanding(ctx context.Context, w Way, n notice.Notice) (Happening, error) {
	for looks := 1; ; looks++ {
		is, _, err := t.lookFor(ctx, w)
		if err == nil && looks%remindAfter == 0 && is != arrived && is != unseen {
			err = t.tell(ctx, n)
		}
		if err == nil && is == unseen && w.To == Chute {
			return CarryEnded, nil
		}
		if err == nil && is == unseen {
			_, err = t.ask(ctx, notice.Question{Text: n.Text, Choices: []string{"it stands there"}, Moves: []chess.Move{0}})
		}
		switch {
		case err == nil && is == unseen, errors.Is(err, errRight):
			return RequestTrust, nil
		case err != nil:
			return "", err
		case is == arrived:
			return CarrySeen, nil
		}
	}
}

// standNotice asks for a piece that got lost on its way.
func (t *Table) standNotice(w Way) notice.Notice {
	text := fmt.Sprintf("I lost the %v on the way. Please stand it on %s.", w.Piece, w.To.words(len(t.s.Slots)))
	n := notice.Notice{Kind: notice.PleasePut, Text: text, Piece: w.Piece}
	if w.To == Chute {
		n.Kind, n.Text = notice.PleaseMend, fmt.Sprintf("I lost the %v on the way to the drawer. Please take it off the board.", w.Piece)
	}
	act := notice.Act{Piece: w.Piece, From: chess.NoSquare, To: chess.NoSquare}
	if w.To >= 0 && w.To < Slot {
		act.To = chess.Square(w.To)
		n.Squares = []chess.Square{act.To}
	} else if at, ok := t.spotOf(w.To); ok {
		n.Slot = &at
	}
	n.Acts = []notice.Act{act}
	after := t.now.clone()
	after.move(w.Piece, w.From, w.To)
	n.FEN = placement(after.Board) + " w - - 0 1"
	return n
}

// settleWay finds, after a break, the piece that was being carried, and brings
// it to the end of its way: a piece is in one place, and nothing is written
// down that was not seen.
func (t *Table) settleWay(ctx context.Context) error {
	if t.now.Way == nil {
		return nil
	}
	w := *t.now.Way
	is, _, err := t.lookFor(ctx, w)
	switch {
	case errors.Is(err, errRight):
		return t.arriveBy(ctx, w, RequestTrust)
	case err != nil:
		return err
	case is == stayed:
		t.now.Way = nil
		return t.record(ctx, Record{State: t.state, What: CarrySeen, Piece: w.Piece, From: w.From, To: w.From})
	case is == unseen:
		return t.askToStand(ctx, w)
	}
	return t.confirmCarry(ctx, w)
}
