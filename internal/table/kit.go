// SPDX-License-Identifier: Apache-2.0

package table

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/sight"
	"boardhand/internal/table/carriage"
	"boardhand/internal/table/desk"
	"boardhand/internal/table/journal"
	"boardhand/internal/table/model"
	"boardhand/internal/table/places"
	"boardhand/internal/table/view"
	"boardhand/internal/table/wording"
)

// kit is what the parts of a table share: with whom it works, what it knows,
// and how far it is.
type kit struct {
	Parts
	Settings
	m *model.Model
	d *desk.Desk
	v *view.View
	c *carriage.Carriage

	job    *journal.Job
	goal   *chess.Position // that the plan under way leads to; nil: none
	spent  spent
	doubts doubts
}

// spent is what the move under way has cost so far; a finished move clears it.
type spent struct {
	replans  int // because a piece was adjusted
	tries    int // to mend itself
	putOffs  int // carries given up
	failures int // of any part
}

// doubts is what has been said and asked of the board as it is, so that
// nothing is said or asked twice of the same sight.
type doubts struct {
	said    view.Insistence // what was explained last
	refused []chess.Move    // candidates to which a person answered "none of these"
	odd     int             // settled pictures in a row that nothing explains
}

// isRefused says whether a person answered "none of these" to a move.
func (n *doubts) isRefused(m chess.Move) bool { return slices.Contains(n.refused, m) }

// enter makes a transition. The picture that showed the table ready is kept.
func (k *kit) enter(ctx context.Context, next journal.Turn) error {
	if k.d.State == journal.Setting && next.To != journal.Trouble && next.Rec.What != "" {
		next.Rec.JPEG = k.v.Shown.JPEG
	}
	return k.d.Enter(ctx, next)
}

// clearDoubts forgets what was said of the board: it has changed.
func (k *kit) clearDoubts() {
	k.doubts = doubts{}
	k.v.NoHand()
}

// home finds the axes' zeros with the magnet lowered.
func (k *kit) home(ctx context.Context) error {
	if err := k.c.Home(ctx); err != nil {
		return journal.InPart(journal.PartGantry, err)
	}
	return nil
}

// carryingSentence says what the machine is about to do.
func (k *kit) carryingSentence() string {
	switch {
	case k.m.Decided != 0:
		return fmt.Sprintf("I play %s. Hands off, please.", wording.MoveWords(k.m.Game.Position(), k.m.Decided))
	case k.job.Task().Kind == journal.SetUp:
		return "I set the pieces up for the next game. Hands off, please."
	}
	return "I take it back. Hands off, please."
}

// reach waits until pictures prove a position that the eye has been told, or a
// person says that it stands there, and says what is still missing; told says
// that the guest has just been asked for it and needs a moment.
func (k *kit) reach(ctx context.Context, want chess.Position, told bool) error {
	var last sight.Reading
	var said view.Insistence
	settled := 0
	for same := 0; same < sure; {
		r, err := k.v.Look(ctx)
		if errors.Is(err, desk.ErrRight) {
			k.Eye.Learner.Agree(want)
			return k.d.Record(ctx, journal.Record{State: k.d.State, What: journal.RequestTrust})
		}
		if err != nil {
			return err
		}
		if r.State == sight.Same {
			same++
			continue
		}
		same = 0
		if r.State == sight.Hand && last.State == sight.Hand {
			if err := k.v.StayingHand(ctx, r); err != nil {
				return err
			}
		}
		if r.State == sight.Hand { // somebody is at work on it
			settled = 0
		} else {
			settled++
		}
		isSteady := settled > 1 && (view.Alike(last, r) || settled > view.Flickers)
		if last = r; !isSteady || !said.IsDue(r) {
			continue
		}
		if told {
			told = false
			continue
		}
		if err := k.d.Tell(ctx, wording.ReachNotice(want, r)); err != nil {
			return err
		}
	}
	return nil
}

// isBelieved says whether a doubtful picture is still the machine's own move:
// it is the likeliest explanation, and each square by itself, and the strip
// beside the board, bears it out.
func (k *kit) isBelieved(r sight.Reading) bool {
	return r.State == sight.Unsure && len(r.Candidates) > 0 && r.Candidates[0].Move == k.m.Decided &&
		r.Candidates[0].Belief > likelier && k.v.Proves(places.BoardOf(k.m.After()))
}
