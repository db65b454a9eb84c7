// SPDX-License-Identifier: Apache-2.0

// Package host stands between a game at a table and its pages: it turns what
// happens into what the pages show, and what a visitor does there into hands,
// answers, requests and stops. It knows what the visitor's hand has done before
// a picture shows it.
package host

import (
	"context"
	"errors"
	"fmt"
	"sync"

	"boardhand/internal/chess"
	"boardhand/internal/notice"
	"boardhand/internal/table"
	"boardhand/internal/table/journal"
	"boardhand/internal/table/places"
	"boardhand/internal/web"
)

// Host stands between the table and the pages.
type Host struct {
	// Publish shows an event on the pages; set before Open.
	Publish func(web.Event)

	ctx context.Context
	o   Options

	mu       sync.Mutex
	table    *table.Table    // at which the game is played now
	standing places.Standing // where the pieces are, as the table has it
	pos      chess.Position  // of the game
	plies    int             // likewise
	state    journal.State
	registry *registry
	hand     *hand
	acts     acts
	notice   notice.Notice // the newest
	acted    bool          // the visitor's hand has done something since
	entered  bool          // nothing has been said yet since the state was entered
	waiting  string        // what was said last while hands were to be off
	moving   bool          // the carriage is at work
	machine  chess.Color   // its side
	halted   bool          // a person has stopped the motors
	unseen   int           // pictures in a row in which the hand's work was not seen
	ways     []journal.RequestKind
	question *question
	asked    uint64 // questions so far
	viewed   bool
	slow     bool
	said     string // the last line of the log
}

// New makes a host; ctx ends the evening.
func New(ctx context.Context, o Options) *Host {
	return &Host{ctx: ctx, o: o, hand: newHand()}
}

// Guest is the simulated one, or a person at the page or the board.
func (h *Host) Guest() table.Guest {
	if h.o.Seat == Simulated {
		return h.o.Guest
	}
	return person{h}
}

// person is the guest at the page or at the board: what is told is on the page already.
type person struct{ h *Host }

func (v person) Tell(ctx context.Context, n notice.Notice) error {
	if n.Kind == notice.YourMove && v.h.o.Seat == AtThePage {
		v.h.o.Offer(n.Slot)
		v.h.offer(n)
	}
	return ctx.Err()
}

func (v person) Ask(ctx context.Context, q notice.Question) (int, error) { return v.h.ask(ctx, q) }

// publish shows an event with everything that follows from where things stand:
// what is said, what is asked, what may be asked for. The caller holds mu.
func (h *Host) publish(w web.Event) {
	text, asked := h.situation()
	hands := h.handsOff() == nil
	w.Sentence, w.Wanted, w.Hands = text, Wanted(asked), &hands
	w.Phantoms, w.Offers, w.Hint = h.phantoms(), h.offers(), hintShown(h.notice, h.state)
	h.Publish(w)
}

var errTwinGuest = errors.New("the guest is simulated in this game: to play yourself, start `boardhand play --visitor`")

var errAtTheBoard = errors.New("this game is played at the board: move the pieces there")

// handsOff says why no hand should be over the board now, or nil. The caller
// holds mu.
func (h *Host) handsOff() error {
	asks := isAsking(h.notice)
	switch {
	case h.o.Seat == Simulated:
		return errTwinGuest
	case h.o.Seat == AtTheBoard:
		return errAtTheBoard
	case h.state == journal.Over:
		return errors.New("the game is over; ask for a new one")
	case h.moving, h.state == journal.Carrying:
		return errors.New("hands off, please: the carriage is at work")
	case h.state == journal.Thinking:
		return errors.New("one moment, please: I am choosing my move")
	case h.state == journal.Setting && !asks:
		return errors.New("one moment, please: I am finding my axes")
	case (h.state == journal.Verifying || h.state == journal.Undoing || h.state == journal.Arranging) && !asks:
		return errors.New("one moment, please: I am still at work")
	}
	return nil
}

// isAsking says whether a notice asks the guest to do something to the pieces.
func isAsking(n notice.Notice) bool {
	return n.Kind == notice.PleaseTake || n.Kind == notice.PleasePut || n.Kind == notice.PleaseMend
}

// Halt stops the motors.
func (h *Host) Halt(context.Context) error {
	h.mu.Lock()
	h.halted = true
	t := h.table
	yes := true
	h.publish(web.Event{Halted: &yes})
	h.mu.Unlock()
	if t == nil {
		return errors.New("no game has begun yet: nothing moves")
	}
	return t.Halt()
}

// Resume lets the machine go on, if it waits for that.
func (h *Host) Resume(context.Context) error {
	h.mu.Lock()
	awaited := h.awaits()
	h.mu.Unlock()
	if !awaited {
		return errors.New("nothing waits to be resumed")
	}
	if err := h.Desk().Request(journal.Request{Kind: journal.RequestResume}); err != nil {
		return err
	}
	h.mu.Lock()
	defer h.mu.Unlock()
	no := false
	h.halted = false
	h.dropWay(journal.RequestResume)
	h.publish(web.Event{Halted: &no})
	return nil
}

// SquareOf reads "e4"; "off" is beside the board.
func SquareOf(name string) (chess.Square, error) {
	if name == web.Off {
		return chess.NoSquare, nil
	}
	if len(name) == 2 && name[0] >= 'a' && name[0] <= 'h' && name[1] >= '1' && name[1] <= '8' {
		return chess.SquareAt(int(name[0]-'a'), int(name[1]-'1')), nil
	}
	return chess.NoSquare, fmt.Errorf("%q is not a square", name)
}
