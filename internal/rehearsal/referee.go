// SPDX-License-Identifier: Apache-2.0

package rehearsal

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"boardhand/internal/chess"
	"boardhand/internal/diagnosis"
	"boardhand/internal/notice"
	"boardhand/internal/photo"
	"boardhand/internal/sight"
	"boardhand/internal/table"
	"boardhand/internal/table/journal"
	"boardhand/internal/table/places"
	"boardhand/internal/twin"
)

// Referee is the log, the onlooker and the umpire of one rehearsed game. It
// alone compares what the machine believes with the world's truth.
type Referee struct {
	machine   *Machine
	spec      Spec
	keep      string // folder for the pictures, "" for none
	game      *chess.Game
	table     *table.Table
	isSetting bool // the pieces are being set up: no pictures of a game
	tally     Tally
	named     []journal.Record // the parts that the machine suspects
	goals     []goal           // where it has carried pieces to
	answers   strings.Builder
	log       strings.Builder // what happened, for people
	counted   twin.Counters   // when the log was last written to
	frame     string
	failed    error
	blind     int  // pictures in a row that could not be read
	frames    int  // pictures of this game
	since     int  // pictures when the last move was finished
	mends     int  // times a person let it go on since then
	unsure    bool // the newest picture left a doubt
	visit     visit
	cuts      cuts
	stop      context.CancelFunc // ends the rehearsal; nil before it has begun
}

// NewReferee makes the referee of a machine.
func NewReferee(m *Machine, s Spec) *Referee {
	return &Referee{machine: m, spec: s, cuts: newCuts(m.World, s.seed(), s.HasCuts)}
}

// Tally is what was counted, with what the world counted.
func (r *Referee) Tally() Tally {
	truth := r.machine.World.Truth()
	c := truth.Counters
	t := r.tally
	if r.machine.Driven != nil {
		resumed := t.Through.Resumed
		t.Through = r.machine.Driven.counts()
		t.Through.Resumed = resumed
	}
	t.count(truth.AtFault, r.goals, r.named)
	t.Collisions, t.Slips, t.Drags, t.Stalls, t.Toppled = c.Collisions, c.Slips, c.Drags, c.Stalls, c.Toppled
	t.Touches = c.Touches
	t.Missed += r.visit.missed()
	return t
}

// Log is what happened in the game, for people.
func (r *Referee) Log() string { return r.log.String() }

// Standing is where the pieces are, as the machine has it.
func (r *Referee) Standing() places.Standing { return r.table.Standing() }

// Append compares a finished move with the truth.
func (r *Referee) Append(_ context.Context, rec journal.Record) error {
	r.countAnew()
	r.note(rec.Symptoms)
	if err := r.cuts.keep(rec); err != nil {
		return err
	}
	fmt.Fprintf(&r.log, "%s: %s\n", rec.State, rec.Prose())
	switch rec.What {
	case journal.Fetched, journal.Adjusted, journal.NotFollowed:
		r.tally.Recovered++
	case journal.HandSeen:
		r.hold()
	case journal.CarryPutOff:
		r.tally.PutOff++
	case journal.Suspected:
		r.noteNamed(rec)
	}
	if rec.Task != "" {
		r.since = r.tally.Pictures
		r.taskDone(rec)
	}
	if rec.Move == 0 {
		return nil
	}
	r.tally.Plies++
	r.since, r.mends = r.tally.Pictures, 0
	if r.unsure || rec.What == journal.GuestNamed { // the person, or the machine that knows what it carried, has settled it
		fmt.Fprintf(&r.answers, "%s %s\n", r.frame, rec.Move)
	}
	r.compare(rec)
	if rec.By == journal.ByGuest {
		return nil
	}
	if n := r.machine.Guest.SecondThoughts(); n > 0 {
		_ = r.table.Request(journal.Request{Kind: journal.RequestBack, Plies: n}) // refused while there is nothing to take back
	}
	return nil
}

// note takes the places to which pieces were carried.
func (r *Referee) note(seen journal.Symptoms) {
	for _, y := range seen {
		if y.Act == diagnosis.Carry && y.Outcome == diagnosis.Arrived {
			r.goals = append(r.goals, goal{y.To, y.Beside})
		}
	}
}

// noteNamed notes a part that is suspected, once: after a break it is told again.
func (r *Referee) noteNamed(rec journal.Record) {
	isSame := func(n journal.Record) bool {
		return n.Cause == rec.Cause && n.Origin == rec.Origin && n.Axis == rec.Axis
	}
	if !slices.ContainsFunc(r.named, isSame) {
		r.named = append(r.named, rec)
	}
}

// compare counts what differs after a move: a square after the guest's move says
// that it was misread; a slot has nothing to do with what was read.
func (r *Referee) compare(rec journal.Record) {
	squares, slots := r.differences(r.game.Position())
	switch {
	case len(squares) > 0 && rec.By == journal.ByGuest:
		r.tally.Misread++
	case len(slots) > 0 || len(squares) > 0 && !r.isGuestAhead():
		r.tally.LostState++
	}
}

// countAnew writes to the log what the twin has counted since the last line.
func (r *Referee) countAnew() {
	c := r.machine.World.Truth().Counters
	for _, n := range []struct {
		name     string
		now, was int
	}{
		{"collision", c.Collisions, r.counted.Collisions}, {"slip", c.Slips, r.counted.Slips}, {"drag", c.Drags, r.counted.Drags},
		{"stall", c.Stalls, r.counted.Stalls}, {"touch of the hand", c.Touches, r.counted.Touches}, {"toppled", c.Toppled, r.counted.Toppled},
	} {
		if n.now > n.was {
			fmt.Fprintf(&r.log, "  the twin saw: %s +%d\n", n.name, n.now-n.was)
		}
	}
	r.counted = c
}

// taskDone compares the board with what a task was to bring about.
func (r *Referee) taskDone(rec journal.Record) {
	want := r.game.Position()
	switch rec.What {
	case journal.TakenBack:
		r.tally.TakenBack++
		fmt.Fprintf(&r.answers, "%s back 1\n", r.frame)
	case journal.SetUpDone:
		r.tally.SetUps++
		want = chess.Start()
	default:
		return
	}
	if squares, slots := r.differences(want); len(squares)+len(slots) > 0 {
		r.tally.LostState++
	}
}

// differences lists the squares on which the board is not as the game says,
// and the slots that do not hold the piece that the machine believes in them. A
// piece that somebody is setting straight is in the hand for that moment.
func (r *Referee) differences(pos chess.Position) (squares, slots []string) {
	truth := r.machine.World.Truth()
	squares = At(pos).differing(truth)
	slots = Misplaced(truth, r.table.Standing(), r.machine.Settings.Machine.Layout.Slots)
	if wrong := slices.Concat(squares, slots); len(wrong) > 0 {
		fmt.Fprintf(&r.log, "  WRONG: %s\n", strings.Join(wrong, "; "))
	}
	return squares, slots
}

// isGuestAhead says whether the board differs from the game only by what the
// guest is playing already: a move made, or a piece in the hand.
func (r *Referee) isGuestAhead() bool {
	truth, pos := r.machine.World.Truth(), r.game.Position()
	for _, m := range pos.LegalMoves(nil) {
		if r.isBoard(truth, pos.After(m)) {
			return true
		}
		between := truth
		if between.Squares[m.From()] == chess.NoPiece && truth.InHand != chess.NoPiece {
			between.Squares[m.From()] = pos.At(m.From())
		}
		if r.isBoard(between, pos) {
			return true
		}
	}
	return false
}

// isBoard says whether the pieces stand as in a position.
func (r *Referee) isBoard(truth twin.Truth, pos chess.Position) bool {
	for q, piece := range truth.Squares {
		if piece != pos.At(chess.Square(q)) {
			return false
		}
	}
	return true
}

// see keeps pictures and counts what the guest is asked.
func (r *Referee) see(e table.Event) {
	r.cuts.happens()
	switch {
	case e.Text != "" && e.State == "": // a picture that could not be read
		if r.blind++; r.blind > blindAfter {
			r.failed = fmt.Errorf("no picture could be read: %s", e.Text)
			r.stop()
		}
	case slices.Contains(e.Ways, journal.RequestResume):
		r.mend()
	case e.Picture != nil:
		r.blind = 0
		r.picture(*e.Picture)
		fmt.Fprintf(&r.log, "  %s %s %v %s %.4f\n", r.frame, e.Reading.State, e.Reading.Squares, e.Reading.Move, e.Reading.Belief)
		r.unsure = e.Reading.State == sight.Unsure
		r.listen()
	case e.Notice != nil && e.Notice.Kind == notice.PleaseTake:
		r.tally.Removals++
	case e.Notice != nil && (e.Notice.Kind == notice.PleaseMend || e.Notice.Kind == notice.PleasePut), e.Question != nil:
		r.tally.Asked++
	}
}

// mend is what a person does whom the machine asks to look under the board: they take
// their time, and let it go on. A machine that asks again and again is stuck.
func (r *Referee) mend() {
	if r.mends++; r.mends > stuckMends {
		r.tally.Stuck = 1
		r.stop()
		return
	}
	if d := r.machine.Driven; d != nil {
		d.Clock.Wait(mendTime)
	}
	err := r.table.Request(journal.Request{Kind: journal.RequestResume})
	fmt.Fprintf(&r.log, "  the guest presses Resume: %v\n", err)
	r.tally.Through.Resumed++
}

// listen hands to the table what the guest says unasked.
func (r *Referee) listen() {
	s, ok := r.machine.Guest.Says()
	if !ok {
		return
	}
	err := r.table.Request(journal.Request{Kind: journal.RequestKind(s.Kind), Move: s.Move})
	fmt.Fprintf(&r.log, "  the guest says: %s %v\n", s.Kind, s.Move)
	if err != nil {
		fmt.Fprintf(&r.log, "  refused: %v\n", err)
	}
	r.tally.Said++
}

func (r *Referee) picture(p photo.Picture) {
	r.tally.Pictures++
	r.frames++
	r.frame = fmt.Sprintf("frame_%05d.jpg", r.frames)
	if r.keep != "" && r.failed == nil && !r.isSetting {
		if err := os.WriteFile(filepath.Join(r.keep, r.frame), p.JPEG, 0o644); err != nil {
			r.failed = fmt.Errorf("cannot keep a picture: %w", err)
			r.stop()
		}
	}
	if r.tally.Pictures-r.since > stuckAfter {
		r.tally.Stuck = 1
		r.stop()
	}
}
