// SPDX-License-Identifier: Apache-2.0

package host

import (
	"context"
	"fmt"
	"slices"
	"time"

	"boardhand/internal/chess"
	"boardhand/internal/notice"
	"boardhand/internal/table/places"
	"boardhand/internal/web"
)

// act is one thing for the visitor's hand on the twin's table.
type act struct {
	do     func() error
	done   func() // after the hand has gone again; may be nil
	before hand   // what the hand had done before it
}

// acts wait for the hand, in the order in which they were given.
type acts struct {
	waiting []act
	busy    bool
}

// send has the hand do something as soon as it is free. The caller holds mu.
func (h *Host) send(one act) {
	h.acts.waiting = append(h.acts.waiting, one)
	if !h.acts.busy {
		h.acts.busy = true
		go h.runErrands()
	}
}

// runErrands works off what the hand has to do.
func (h *Host) runErrands() {
	for {
		h.mu.Lock()
		if len(h.acts.waiting) == 0 {
			h.acts.busy, h.unseen = false, 0
			h.rested()
			h.mu.Unlock()
			return
		}
		one := h.acts.waiting[0]
		h.acts.waiting = h.acts.waiting[1:]
		h.mu.Unlock()
		if !h.handFree() {
			return
		}
		if err := one.do(); err != nil {
			h.failed(one, err)
		}
		if !h.handFree() {
			return
		}
		if one.done != nil {
			one.done()
		}
	}
}

// IsBusy says whether the visitor's hand has anything left to do.
func (h *Host) IsBusy() bool {
	h.mu.Lock()
	defer h.mu.Unlock()
	return h.acts.busy
}

// rested shows the pieces as the hand has left them, when the table has found
// something else meanwhile. The caller holds mu.
func (h *Host) rested() {
	h.hand.rest(h.standing)
	h.registry.follow(h.hand.standing(h.standing))
	h.publish(web.Event{Pieces: h.registry.shown()})
}

// handFree waits until the hand has gone; false at the end of the evening.
// Nobody takes pictures while a question waits: the hand finishes by itself then.
func (h *Host) handFree() bool {
	tick := time.NewTicker(handPoll)
	defer tick.Stop()
	for h.o.Fingers.Busy() {
		select {
		case <-h.ctx.Done():
			return false
		case <-tick.C:
		}
		if h.o.Linger != nil && h.isAsked() {
			h.o.Linger()
		}
	}
	return true
}

// isAsked says whether a question waits for its answer.
func (h *Host) isAsked() bool {
	h.mu.Lock()
	defer h.mu.Unlock()
	return h.question != nil
}

// failed shows what the hand had done before the act that it could not do; those that
// waited behind it are dropped.
func (h *Host) failed(one act, err error) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.hand.undo(one.before)
	h.acts.waiting = nil
	h.showHand(web.Event{Log: h.logged(web.Line{Kind: web.Warn, Text: "the visitor's hand: " + err.Error()})})
}

// showHand shows the pieces as the hand has left them. The caller holds mu.
func (h *Host) showHand(w web.Event) {
	h.acted, h.unseen = true, 0
	h.registry.follow(h.hand.standing(h.standing))
	w.Pieces = h.registry.shown()
	h.publish(w)
}

// Hand moves a piece as the visitor's hand. It is shown at once and done when
// the hand is free.
func (h *Host) Hand(_ context.Context, by web.HandAct) error {
	from, err := SquareOf(by.From)
	if err != nil {
		return err
	}
	to, err := SquareOf(by.To)
	if err != nil {
		return err
	}
	h.mu.Lock()
	defer h.mu.Unlock()
	if err := h.handsOff(); err != nil {
		return err
	}
	one := notice.Act{From: from, To: to}
	if by.From == web.Off {
		if one.Piece, err = chess.PieceLettered(by.Piece); err != nil {
			return err
		}
	}
	if err := h.begin(one, nil); err != nil {
		return err
	}
	h.showHand(web.Event{})
	return nil
}

// arrange has the hand set the pieces as they should be.
func (h *Host) arrange() error {
	h.mu.Lock()
	defer h.mu.Unlock()
	if err := h.handsOff(); err != nil {
		return err
	}
	g, ok := h.goal()
	if !ok {
		return fmt.Errorf("nothing is being asked of you just now")
	}
	if _, err := chess.ParseFEN(g.fen); err == nil {
		before := h.hand.snapshot()
		h.hand.atWork = true
		h.hand.arrange(h.standing, g.board)
		h.send(act{before: before, do: func() error { return h.o.Fingers.Arrange(g.fen) }})
	} else { // no position of a game: a pawn waits on its last square, say
		for _, a := range Acts(h.hand.board(h.standing), g.board) {
			if err := h.begin(a, nil); err != nil {
				return err
			}
		}
		h.hand.arrange(h.standing, g.board)
	}
	h.showHand(web.Event{})
	return nil
}

// begin has the hand do one act and takes it for done; done, if there is one, is called
// after it. The caller holds mu.
func (h *Host) begin(a notice.Act, done func()) error {
	before := h.hand.snapshot()
	h.hand.atWork = true
	if a.From >= chess.NoSquare {
		h.hand.put(h.standing, a.Piece, a.To)
		h.send(act{before: before, done: done, do: func() error { return h.o.Fingers.PutPiece(a.Piece, a.To) }})
		return nil
	}
	if err := h.hand.move(h.standing, a.From, a.To); err != nil {
		h.hand.atWork = before.atWork
		return err
	}
	h.send(act{before: before, done: done, do: func() error { return h.o.Fingers.MovePiece(a.From, a.To) }})
	return nil
}

// offer remembers the slot for the machine's piece that the guest may take.
func (h *Host) offer(n notice.Notice) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.hand.offer = places.Person
	if n.Slot == nil {
		return
	}
	slots := h.o.Rig.Slots()
	if k := slices.Index(slots, *n.Slot); k >= 0 {
		h.hand.offer = places.Slot + places.Place(k)
	}
}
