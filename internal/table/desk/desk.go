// SPDX-License-Identifier: Apache-2.0

// Package desk is where a game is written down and shown, where people are told
// and asked, and where what they ask for and their stops come in.
package desk

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"sync"

	"boardhand/internal/chess"
	"boardhand/internal/notice"
	"boardhand/internal/table/journal"
	"boardhand/internal/table/model"
)

// Guest is the person on the other side of the board.
type Guest interface {
	// Tell shows a notice; it does not wait for the guest to act.
	Tell(ctx context.Context, n notice.Notice) error
	// Ask returns the index of the guest's choice; it ends with ctx.
	Ask(ctx context.Context, q notice.Question) (int, error)
}

// Log keeps what happened.
type Log interface {
	// Append returns when the record is safe on disk. A *PictureError says that
	// the record is, and its picture is not.
	Append(ctx context.Context, r journal.Record) error
}

// claim is what the standing of the pieces rests on.
type claim string

// The states of what is claimed of the board.
const (
	known    claim = "known"    // on what the machine did or saw
	promised claim = "promised" // a person was asked for it; until it is seen to be done it is neither kept nor shown
)

// Desk is where a game is written down and shown, where people are told and
// asked, and where what they ask for and their stops come in.
type Desk struct {
	Observe func(Event)                                  // told what an onlooker may show
	Grant   func(context.Context, journal.Request) error // grants what was asked for; ErrRight says that it is for whoever waits
	Fresh   func() journal.Symptoms                      // those since the last record, to be kept with the next
	IsFixed bool                                         // how strongly the machine plays cannot be chosen

	model    *model.Model
	log      Log
	guest    Guest
	State    journal.State
	kept     string   // the standing last put on disk
	showing  string   // and last shown
	claim    claim    // what the standing rests on
	lastSaid string   // by the last record
	asked    uint64   // number of the last question
	hinted   hinted   // the last hint given
	Unlisted []string // transitions that the state table does not have
	lostPics int      // pictures that could not be kept

	mu      sync.Mutex
	motors  Motors
	resume  chan struct{}
	Wake    chan struct{}         // something was asked for, or stopped
	moving  context.CancelFunc    // ends the motion under way
	pending []journal.Request     // wait to be granted
	ways    []journal.RequestKind // what may be asked for now
	players []string              // that have taken over, to be told
	plies   int                   // of the game
}

// NewDesk opens a desk for a game; kept is the standing that is on disk.
func NewDesk(of *model.Model, l Log, g Guest, kept string) *Desk {
	d := &Desk{Observe: func(Event) {}, Fresh: func() journal.Symptoms { return nil }, model: of, log: l, guest: g, State: journal.Setting, kept: kept, claim: known, motors: Running,
		resume: make(chan struct{}, 1), Wake: make(chan struct{}, 1)}
	d.CountPlies()
	return d
}

// CountPlies notes how many moves the game has: none may be taken back of none.
func (d *Desk) CountPlies() {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.plies = len(d.model.Game.Moves)
}

// Promise notes that what the model says of the board was asked of a person.
func (d *Desk) Promise() { d.claim = promised }

// Believe notes that the board is as the model says.
func (d *Desk) Believe() { d.claim = known }

// LogError says that the log could not be written: nothing may go on, or the
// game would be lost.
type LogError struct{ error }

func (e *LogError) Unwrap() error { return e.error }

// Record writes to the log and shows the line.
func (d *Desk) Record(ctx context.Context, r journal.Record) error {
	if r.Move != 0 || r.Task != "" {
		d.claim = known
	}
	now := d.model.Now.String()
	if d.claim == promised { // nobody has done it yet
		now = d.kept
	}
	if now != d.kept && (d.model.Now.Way != nil || d.model.Now.Offered != 0 || len(d.model.Now.Beside) > 0 || d.kept != "") {
		r.Standing, d.kept = now, now
	}
	r.Slots, d.lastSaid, r.Symptoms = len(d.model.Layout.Slots), r.Said, d.Fresh()
	err := d.log.Append(ctx, r)
	var lost *journal.PictureError
	if errors.As(err, &lost) {
		err = d.lostPicture(ctx, lost)
	}
	if err != nil {
		return &LogError{fmt.Errorf("the game's log cannot be written, so the machine stops here: %w", err)}
	}
	e := Event{State: r.State, Text: r.Prose(), Record: &r, Game: d.model.Game}
	if now != d.showing && d.claim == known {
		is := d.model.Now.Clone()
		d.showing, e.Standing = now, &is
	}
	d.Observe(e)
	return nil
}

// lostPicture tells of the first picture that could not be kept: pictures are
// evidence, the game goes on without.
func (d *Desk) lostPicture(ctx context.Context, lost *journal.PictureError) error {
	d.lostPics++
	if d.lostPics > 1 {
		return nil
	}
	text := fmt.Sprintf("Pictures cannot be kept any more; the game goes on: %v", lost.Err)
	d.Observe(Event{Suspicion: text})
	return d.log.Append(ctx, journal.Record{State: d.State, What: journal.PictureLost, Said: text})
}

// Enter makes a transition. The picture that showed the table ready is kept.
func (d *Desk) Enter(ctx context.Context, next journal.Turn) error {
	if next.Rec.What == "" { // it stays where it is
		return nil
	}
	if !journal.IsListed(d.State, next) {
		d.Unlisted = append(d.Unlisted, fmt.Sprintf("%s: %s → %s", d.State, next.Rec.What, next.To))
	}
	r := next.Rec
	r.State = next.To
	d.State = next.To
	d.Offer()
	return d.Record(ctx, r)
}

// Offer says what may be asked for in this state.
func (d *Desk) Offer() {
	d.mu.Lock()
	ways := slices.Clone(journal.WaysOn[d.State])
	if d.State == journal.Trouble && !d.motors.isAwaiting() {
		ways = nil
	}
	if d.plies == 0 {
		ways = slices.DeleteFunc(ways, func(k journal.RequestKind) bool { return k == journal.RequestBack })
	}
	if d.model.IsMachinesTurn() {
		ways = slices.DeleteFunc(ways, func(k journal.RequestKind) bool { return k == journal.RequestPlayed })
	}
	if d.IsFixed {
		ways = slices.DeleteFunc(ways, func(k journal.RequestKind) bool { return k == journal.RequestStrength })
	}
	same := slices.Equal(ways, d.ways)
	d.ways = ways
	d.pending = slices.DeleteFunc(d.pending, func(r journal.Request) bool { return !slices.Contains(ways, r.Kind) }) // they have lost their meaning
	d.mu.Unlock()
	if !same {
		d.Observe(Event{Ways: append([]journal.RequestKind{}, ways...)})
	}
}

// Tell says one sentence to the guest.
func (d *Desk) Tell(ctx context.Context, n notice.Notice) error {
	if n.FEN == "" {
		p := d.model.Game.Position()
		n.FEN = p.FEN()
	}
	d.Observe(Event{Notice: &n})
	if n.Text != d.lastSaid { // it is on record already as a request
		if err := d.Record(ctx, journal.Record{State: d.State, What: journal.Told, Said: n.Text, Squares: n.Squares}); err != nil {
			return err
		}
	}
	return d.guest.Tell(ctx, n)
}

// Say tells people something that asks nothing of them, perhaps of some squares.
func (d *Desk) Say(ctx context.Context, text string, squares ...chess.Square) error {
	return d.Tell(ctx, notice.Notice{Kind: notice.Wait, Text: text, Squares: squares})
}

// HandSeen tells people of what looks like a hand and stays over the board.
func (d *Desk) HandSeen(ctx context.Context, text string, squares ...chess.Square) error {
	return d.Tell(ctx, notice.Notice{Kind: notice.HandSeen, Text: text, Squares: squares})
}

// CameraSilent tells people that the camera shows nothing useful, and keeps it.
func (d *Desk) CameraSilent(ctx context.Context, text string) error {
	if err := d.Say(ctx, text); err != nil {
		return err
	}
	return d.Record(ctx, journal.Record{State: d.State, What: journal.CameraSilent, Said: text})
}

// CameraBack keeps that pictures come again, and tells people.
func (d *Desk) CameraBack(ctx context.Context) error {
	if err := d.Record(ctx, journal.Record{State: d.State, What: journal.CameraBack}); err != nil {
		return err
	}
	return d.Say(ctx, "I see the board again. One moment, please.")
}
