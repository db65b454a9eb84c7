// SPDX-License-Identifier: Apache-2.0

package table

import (
	"context"
	"fmt"
	"maps"
	"math"
	"slices"

	"boardhand/internal/carry/plan"
	"boardhand/internal/chess"
	"boardhand/internal/diagnosis"
	"boardhand/internal/frame"
	"boardhand/internal/notice"
	"boardhand/internal/sight"
	"boardhand/internal/table/places"
)

// bystandersOf lists the squares whose pieces stand beside the way of a plan and
// are not carried by it, and some that stand elsewhere: how those seem to move
// tells how well pictures measure.
func (t *Table) bystandersOf(made plan.Plan) (out []chess.Square) {
	isMoved := map[chess.Square]bool{}
	for _, s := range made.Steps {
		if s.Do != plan.Travel {
			isMoved[s.From], isMoved[s.To] = true, true
		}
	}
	others := 0
	for q := chess.Square(0); q < chess.NoSquare; q++ {
		if t.m.Now.Board[q] == chess.NoPiece || isMoved[q] {
			continue
		}
		isBeside := distance(made, t.m.Layout.Centre(q)) < float64(t.m.Layout.Square)
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
func (t *Table) sightings(seen map[chess.Square]sight.Presence) diagnosis.Scene {
	out := diagnosis.Scene{}
	for q, p := range seen {
		out[t.m.Identity(t.m.Now.Board[q], places.Place(q))] = diagnosis.Sighting{At: p.Found, Sigma: p.Sigma}
	}
	return out
}

// judge tells the diagnosis what the last plan of the machine's move brought, and
// whom it has pushed over the lines of their squares.
func (t *Table) judge() (astray []chess.Square) {
	on := slices.Sorted(maps.Keys(t.stood))
	seen := t.v.Standing(on)
	after := t.m.Measured()
	for p, is := range t.sightings(t.v.Standing([]chess.Square{t.m.Decided.To()})) {
		if _, isMeasured := after[p]; !isMeasured {
			after[p] = is
		}
	}
	for p, is := range t.sightings(seen) {
		after[p] = is
	}
	t.s.Suspects.Look(t.m, after)
	within := places.ArriveWithin * float64(t.m.Layout.Square)
	for _, q := range on {
		p, isSeen := seen[q]
		if isSeen && p.Found.Distance(p.At) > within && t.stood[q].Found.Distance(p.At) < within {
			astray = append(astray, q)
		}
	}
	return astray
}

// mendBystanders has a person set straight who was pushed over the line of their
// square: whoever moves next would not know on which one they stand. It says
// whether there was anybody.
func (t *Table) mendBystanders(ctx context.Context, astray []chess.Square) (bool, error) {
	for _, q := range astray {
		if err := t.askStraight(ctx, q); err != nil {
			return true, err
		}
	}
	if len(astray) > 0 {
		t.stood = nil // who a person calls right is right
	}
	return len(astray) > 0, nil
}

// askStraight asks for one piece in the middle of its square.
func (t *Table) askStraight(ctx context.Context, q chess.Square) error {
	piece, after := t.m.Now.Board[q], t.m.After()
	return t.askFor(ctx, places.Way{Piece: piece, From: places.Place(q), To: places.Place(q)}, notice.Notice{
		Kind: notice.PleaseMend, Piece: piece, Squares: []chess.Square{q}, FEN: after.FEN(),
		Text: fmt.Sprintf("The %v was pushed over the line: please set it in the middle of %v.", piece, q)})
}
