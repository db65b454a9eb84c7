// SPDX-License-Identifier: Apache-2.0

package table

import (
	"context"
	"errors"
	"maps"
	"math"
	"slices"

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

// examiner tells the diagnosis what pictures show before and after each carry.
type examiner struct {
	*kit
	stood map[chess.Square]sight.Presence // before the last plan: who stands beside its way, and some others
}

// bystandersOf lists the squares whose pieces stand beside the way of a plan and
// are not carried by it, and some that stand elsewhere: how those seem to move
// tells how well pictures measure.
func (e *examiner) bystandersOf(made plan.Plan) (out []chess.Square) {
	isMoved := map[chess.Square]bool{}
	for _, s := range made.Steps {
		if s.Do != plan.Travel {
			isMoved[s.From], isMoved[s.To] = true, true
		}
	}
	others := 0
	for q := chess.Square(0); q < chess.NoSquare; q++ {
		if e.m.Now.Board[q] == chess.NoPiece || isMoved[q] {
			continue
		}
		isBeside := distance(made, e.m.Layout.Centre(q)) < float64(e.m.Layout.Square)
		if !isBeside {
			others++
		}
		if isBeside || others <= mostElsewhere {
			out = append(out, q)
		}
	}
	return out
}

// distance is that of a spot from the way of a plan, m.
func distance(made plan.Plan, at frame.Spot[frame.Board]) float64 {
	out := math.Inf(1)
	for _, s := range made.Steps {
		_, d := frame.Nearest(s.Path, at)
		out = min(out, d)
	}
	return out
}

// sightings are bystanders as the diagnosis wants to know them.
func (e *examiner) sightings(seen map[chess.Square]sight.Presence) diagnosis.Scene {
	out := diagnosis.Scene{}
	for q, p := range seen {
		out[e.m.Identity(e.m.Now.Board[q], places.Place(q))] = diagnosis.Sighting{At: p.Found, Sigma: p.Sigma}
	}
	return out
}

// judge tells the diagnosis what the last plan of the machine's move brought, and
// whom it has pushed over the lines of their squares.
func (e *examiner) judge() (astray []chess.Square) {
	on := slices.Sorted(maps.Keys(e.stood))
	seen := e.v.Standing(on)
	after := e.m.Measured()
	for p, is := range e.sightings(e.v.Standing([]chess.Square{e.m.Decided.To()})) {
		if _, isMeasured := after[p]; !isMeasured {
			after[p] = is
		}
	}
	for p, is := range e.sightings(seen) {
		after[p] = is
	}
	e.Suspects.Look(e.m, after)
	within := places.ArriveWithin * float64(e.m.Layout.Square)
	for _, q := range on {
		p, isSeen := seen[q]
		if isSeen && p.Found.Distance(p.At) > within && e.stood[q].Found.Distance(p.At) < within {
			astray = append(astray, q)
		}
	}
	return astray
}

// stayedBehind notes that the piece of the machine's move did not come along.
func (e *examiner) stayedBehind() (chess.Piece, places.Place) {
	pos := e.m.Game.Position()
	victim, at := pos.Captured(e.m.Decided)
	piece, from := e.m.StayedBehind(victim != chess.NoPiece && e.v.IsOn(victim, at))
	e.Suspects.Look(e.m, e.m.Measured())
	return piece, from
}

// detections are the pieces that single places of the last picture show, on
// squares and elsewhere, whatever move may explain it.
func (e *examiner) detections() (out []diagnosis.Detection) {
	var known []frame.Spot[frame.Board]
	for _, p := range e.v.Evidence() {
		if p.Open && p.Belief > likelier {
			out = append(out, diagnosis.Detection{Side: p.Side.String(), Sighting: diagnosis.Sighting{At: p.Found, Sigma: p.Sigma}})
			known = append(known, p.Found)
		}
	}
	for _, p := range e.Eye.Witness.Strangers(known) {
		out = append(out, diagnosis.Detection{Side: p.Side.String(), Sighting: diagnosis.Sighting{At: p.At, Sigma: p.Sigma}})
	}
	return out
}

// suspect tells the maker which part to look at, as soon as that is clear.
func (e *examiner) suspect(ctx context.Context) error {
	if e.Eye.Gauge != nil {
		e.Suspects.Bases(e.Eye.Gauge())
	}
	for _, f := range e.Suspects.News() {
		e.d.Observe(desk.Event{Suspicion: f.Sentence})
		if err := e.d.Record(ctx, journal.Record{State: e.d.State, What: journal.Suspected, Cause: string(f.Cause), Origin: f.Piece, Axis: f.Axis, Said: f.Sentence}); err != nil {
			return err
		}
	}
	return nil
}

// noteCamera tells the diagnosis whether a picture came.
func (e *examiner) noteCamera(err error) {
	switch {
	case err == nil:
		e.Suspects.Camera(diagnosis.Done)
	case errors.Is(err, view.ErrFrozen):
		e.Suspects.Camera(diagnosis.PictureFrozen)
	default:
		e.Suspects.Camera(diagnosis.PictureLost)
	}
}
