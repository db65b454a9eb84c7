// SPDX-License-Identifier: Apache-2.0

package table

import (
	"context"
	"errors"

	"boardhand/internal/carry/plan"
	"boardhand/internal/chess"
	"boardhand/internal/diagnosis"
	"boardhand/internal/frame"
	"boardhand/internal/sight"
	"boardhand/internal/table/desk"
	"boardhand/internal/table/journal"
	"boardhand/internal/table/places"
	"boardhand/internal/table/view"
)

// carrier sees to it that a piece comes to the end of its way.
type carrier struct {
	*kit
	ask *asker
}

// confirmCarry looks whether the piece that was just carried stands where it
// belongs. It is fetched where it strayed, carried again where it stayed, and
// asked for when that did not help.
func (cr *carrier) confirmCarry(ctx context.Context, w places.Way) error {
	for try := 0; ; try++ {
		is, s, err := cr.v.LookFor(ctx, w)
		switch {
		case errors.Is(err, desk.ErrRight):
			return cr.ask.arriveBy(ctx, w, journal.RequestTrust)
		case err != nil:
			return err
		case is == view.Arrived:
			cr.Suspects.Found(cr.m, w, diagnosis.Sighting{At: s.At, Sigma: s.Sigma})
			return cr.ask.arriveBy(ctx, w, journal.CarrySeen)
		case is == view.Unseen:
			return cr.ask.arriveBy(ctx, w, journal.CarryEnded)
		}
		cr.missed(w, is, s)
		if err := cr.d.Record(ctx, journal.Record{State: cr.d.State, What: journal.CarryLost, Piece: w.Piece, From: w.From, To: w.To, JPEG: cr.v.Shown.JPEG}); err != nil {
			return err
		}
		if try < mends && !cr.Suspects.IsUseless(cr.m.Names.Of(w.From)) && is != view.Gone {
			ok, err := cr.bringAgain(ctx, w, is, s)
			if err != nil {
				return err
			}
			if ok {
				continue
			}
		}
		return cr.ask.askToStand(ctx, w)
	}
}

// missed tells the diagnosis of a piece that was not seen where it was carried to.
func (cr *carrier) missed(w places.Way, is view.Sighting, s sight.Stray) {
	if is == view.Strayed || is == view.Stayed {
		cr.Suspects.Found(cr.m, w, diagnosis.Sighting{At: s.At, Sigma: s.Sigma})
	} else {
		cr.Suspects.Missed(cr.m)
	}
}

// bringAgain carries a piece on from where it was seen; false when no way is found.
func (cr *carrier) bringAgain(ctx context.Context, w places.Way, is view.Sighting, s sight.Stray) (bool, error) {
	scene, i := cr.m.SceneWith(cr.c.Scene(), w, s, is == view.Strayed, cr.Suspects.IsUseless)
	goal, ok := cr.m.Layout.GoalOf(w.To)
	if !ok {
		return false, nil
	}
	m := scene.Pieces[i]
	square := chess.NoSquare
	if w.To < places.Slot {
		square = chess.Square(w.To)
	}
	rest := []plan.Step{{Do: plan.Carry, Piece: w.Piece, From: m.Square, To: square, PiecePath: []frame.Spot[frame.Board]{m.At, goal}}}
	plan, err := cr.Planner.Mender.Rest(ctx, scene, rest)
	if ctx.Err() != nil {
		return false, ctx.Err()
	}
	if err != nil || plan.Asks() > 0 {
		return false, nil
	}
	what := journal.Fetched
	if is == view.Stayed {
		what = journal.NotFollowed
	}
	if err := cr.d.Record(ctx, journal.Record{State: cr.d.State, What: what, Piece: w.Piece, From: w.From, To: w.To}); err != nil {
		return false, err
	}
	cr.d.Observe(desk.Event{Plan: &plan, Scene: &scene})
	return true, cr.c.Steps(ctx, plan)
}

// settleWay finds, after a break, the piece that was being carried, and brings
// it to the end of its way: a piece is in one place, and nothing is written
// down that was not seen.
func (cr *carrier) settleWay(ctx context.Context) error {
	if cr.m.Now.Way == nil {
		return nil
	}
	w := *cr.m.Now.Way
	is, _, err := cr.v.LookFor(ctx, w)
	switch {
	case errors.Is(err, desk.ErrRight):
		return cr.ask.arriveBy(ctx, w, journal.RequestTrust)
	case err != nil:
		return err
	case is == view.Stayed:
		return cr.stayed(ctx, w)
	case is == view.Unseen:
		return cr.ask.askToStand(ctx, w)
	}
	return cr.confirmCarry(ctx, w)
}

// stayed notes that a piece was seen where it was taken from.
func (cr *carrier) stayed(ctx context.Context, w places.Way) error {
	if cr.m.Now.Way == nil { // it counted as arrived when it was let go
		cr.m.Move(w.Piece, w.To, w.From)
	}
	cr.m.Now.Way = nil
	return cr.d.Record(ctx, journal.Record{State: cr.d.State, What: journal.CarrySeen, Piece: w.Piece, From: w.From, To: w.From})
}

// lastLook looks where the piece stands that was being carried when a person ended
// the game by word: nobody looks afterwards, and what is kept and shown is to be
// true. Two pictures are enough, and none is waited for.
func (cr *carrier) lastLook(ctx context.Context) error {
	w, isUnderway := cr.m.Underway()
	last := view.Unseen
	for looks := 0; isUnderway && looks < 2; looks++ {
		is, isUsable := cr.v.Once(ctx, w)
		switch {
		case !isUsable:
			return nil
		case is == view.Arrived && cr.m.Now.Way == nil: // as it is noted
			return nil
		case is == view.Arrived:
			return cr.ask.arriveBy(ctx, w, journal.CarrySeen)
		case is == view.Stayed && last == view.Stayed:
			return cr.stayed(ctx, w)
		}
		last = is
	}
	return nil
}
