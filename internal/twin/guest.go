// SPDX-License-Identifier: Apache-2.0

package twin

import (
	"context"
	"errors"
	"fmt"

	"boardhand/internal/chess"
	"boardhand/internal/notice"
	"boardhand/internal/twin/person"
)

// newPerson seats the guest or visitor at this table, with the faults that are on.
func newPerson(w *World, pos chess.Position) *person.Person {
	return person.New(person.Setting{Rig: w.rig, Table: w.table, World: clock{w}, Game: pos, Habits: person.Habits{
		IsVisitor: w.opts.Visitor, IsSloppy: w.faults[SloppyGuest], IsLawless: w.faults[IllegalGuest],
		IsInterrupted: w.faults[HalfMove], IsFickle: w.faults[SecondMind],
		Chance: w.stream(streamGuest), Hasty: w.diceIf(EarlyGuest), Thief: w.diceIf(SlotThief),
	}})
}

// clock is the world as the person needs it.
type clock struct{ w *World }

// Pass lets world time go by.
func (c clock) Pass(seconds float64) { c.w.now += seconds }

// Keep writes the world to its file.
func (c clock) Keep() { c.w.keep() }

// Guest is the person on the other side as the session knows them.
type Guest struct{ w *World }

// Guest gives the handle to the guest.
func (w *World) Guest() *Guest { return &Guest{w} }

// ErrVisitor says that nobody sits at the twin's table to answer.
var ErrVisitor = errors.New("the pieces are moved by a visitor: put the question to them")

// Tell shows the guest a notice. What they do about it takes world time.
func (g *Guest) Tell(ctx context.Context, n notice.Notice) error {
	g.w.mu.Lock()
	defer g.w.mu.Unlock()
	if g.w.opts.Visitor {
		return ctx.Err()
	}
	defer g.w.keep()
	return g.w.person.Hear(ctx, n)
}

// Ask answers truthfully, after finishing what the hand is doing.
func (g *Guest) Ask(ctx context.Context, q notice.Question) (int, error) {
	g.w.mu.Lock()
	defer g.w.mu.Unlock()
	if len(q.Choices) == 0 {
		return 0, fmt.Errorf("the question %q has no choices", q.Text)
	}
	if g.w.opts.Visitor {
		return 0, ErrVisitor
	}
	return g.w.person.Answer(q), ctx.Err()
}

// Says takes what the guest wants to say; false when nothing. It is asked once
// a picture.
func (g *Guest) Says() (person.Saying, bool) {
	g.w.mu.Lock()
	defer g.w.mu.Unlock()
	return g.w.person.Says()
}

// SecondThoughts is how many plies the guest wishes taken back after the
// machine's move: none, the machine's alone, or their own with it.
func (g *Guest) SecondThoughts() int {
	g.w.mu.Lock()
	defer g.w.mu.Unlock()
	return g.w.person.SecondThoughts()
}

// Saying is what the guest tells the machine without being asked.
type Saying = person.Saying

// The kinds of saying, named as the session names what a person may ask.
const (
	SaysPlayed = person.SaysPlayed // Move was played; zero: nothing was played
	SaysAfresh = person.SaysAfresh // no hand is there: look at the board afresh
	SaysRight  = person.SaysRight  // what was asked for is done, and the board is as the game says
)
