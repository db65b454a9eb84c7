// SPDX-License-Identifier: Apache-2.0

package lookout

import (
	"context"

	"boardhand/internal/carry/plan"
	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/photo"
	"boardhand/internal/sight"
	"boardhand/internal/table/desk"
	"boardhand/internal/table/journal"
	"boardhand/internal/table/wording"
)

// vigil is the watch over one stroke.
type vigil struct {
	*Lookout
	step      plan.Step
	end       context.CancelFunc // gives the stroke up
	isGivenUp bool
	failed    error // the log cannot be written
	wait
}

// wait is a hold under way; its zero value is none.
type wait struct {
	isHolding bool
	pictures  int  // since it began
	clear     int  // in a row
	hands     int  // in a row
	lying     int  // in a row that show something on the way, and no hand
	isAsked   bool // what lies on the way has been asked for
}

// look judges a picture; err says why there is none.
func (k *vigil) look(ctx context.Context, pic photo.Picture, err error) {
	if k.isGivenUp || k.failed != nil {
		return
	}
	var o sight.Obstacle
	if err == nil {
		o, err = k.Guard.InWay(ctx, pic, k.way())
	}
	switch {
	case k.isHolding:
		k.waitOn(ctx, pic, o, err)
	case err == nil && o.IsHand:
		k.hold(ctx, pic, o)
	}
}

// hold stops the carriage on its way because of a hand; the feed is held before anything
// else.
func (k *vigil) hold(ctx context.Context, pic photo.Picture, o sight.Obstacle) {
	if err := k.Holder.Hold(); err != nil { // it cannot be held: not going on is all that is left
		k.giveUp(ctx, pic, false)
		return
	}
	k.wait = wait{isHolding: true}
	k.show(pic, o)
	k.note(k.desk.Record(ctx, journal.Record{State: k.desk.State, What: journal.HandSeen, Squares: o.Squares}))
	k.say(ctx, wording.HandOver(o.Squares), o.Squares...)
}

// waitOn judges a picture while the carriage stands.
func (k *vigil) waitOn(ctx context.Context, pic photo.Picture, o sight.Obstacle, err error) {
	k.pictures++
	switch {
	case err != nil:
		k.clear = 0
	case o.IsHand:
		k.clear, k.lying = 0, 0
		k.show(pic, o)
		if k.hands++; k.hands == handAfter {
			k.say(ctx, wording.HandStays(o.Squares), o.Squares...)
		}
	case len(o.Squares) > 0:
		k.clear, k.hands = 0, 0
		if k.lying++; k.lying == sure {
			k.lies(ctx, o.Squares)
		}
	default:
		k.hands, k.lying = 0, 0
		if k.clear++; k.clear == sure {
			k.goOn(ctx, pic)
		}
	}
	if k.isHolding && k.pictures >= longest {
		k.giveUp(ctx, pic, err == nil && !o.IsHand)
	}
}

// goOn lets the carriage go on, and puts a guest right who has moved meanwhile.
func (k *vigil) goOn(ctx context.Context, pic photo.Picture) {
	text := wording.GoesOn
	if from, to, ok := k.moved(ctx, pic); ok {
		if k.isAhead(to) { // though the picture as a whole does not show it
			k.clear = 0
			k.lies(ctx, []chess.Square{to})
			return
		}
		text = wording.MovedEarly(k.model.Now.Board[from], from, to)
	}
	k.say(ctx, text)
	if k.wait = (wait{}); k.Holder.Resume() != nil {
		k.giveUp(ctx, pic, false)
	}
}

// isAhead says whether the piece that was seen on a square stands where the carried one is
// still to go.
func (k *vigil) isAhead(q chess.Square) bool {
	w := k.way()
	_, d := frame.Nearest(w.Path, k.view.Evidence()[q].Found)
	return d < 2*w.Reach+float64(k.model.Layout.Square)*spare
}

// lies asks for what lies on the way, once.
func (k *vigil) lies(ctx context.Context, on []chess.Square) {
	if !k.isAsked {
		k.isAsked = true
		k.say(ctx, wording.LiesInWay(on), on...)
	}
}

// moved is the piece of the guest's that stands elsewhere than it did.
func (k *vigil) moved(ctx context.Context, pic photo.Picture) (from, to chess.Square, ok bool) {
	if k.view.Take(ctx, pic) != nil {
		return 0, 0, false
	}
	own := k.own()
	isOut := func(q chess.Square) bool { return q == k.step.From || q == k.step.To }
	isNear := func(q chess.Square) bool {
		_, d := frame.Nearest(own[:1], k.model.Layout.Centre(q))
		return d < float64(k.model.Layout.Square)
	}
	return k.view.Evidence().Moved(k.model.Now.Board, k.model.Side.Other(), isOut, isNear)
}

// giveUp ends the stroke where it is. Where the picture shows it, the piece that the
// guest has moved is known to stand where it stands, for the plan to come.
func (k *vigil) giveUp(ctx context.Context, pic photo.Picture, isSeen bool) {
	if k.isGivenUp = true; isSeen {
		if from, to, ok := k.moved(ctx, pic); ok {
			b := &k.model.Now.Board
			b[to], b[from] = b[from], chess.NoPiece
		}
	}
	k.end()
}

// own are the places where the machine itself has changed the board since the last clear
// picture: where the magnet is, and where the piece was taken from.
func (k *vigil) own() []frame.Spot[frame.Board] {
	return append([]frame.Spot[frame.Board]{k.OnBoard(k.Holder.At())}, k.step.PiecePath[:min(1, len(k.step.PiecePath))]...)
}

// way is what is to be clear before the carriage goes on; while it runs only hands count.
func (k *vigil) way() sight.Way {
	if !k.isHolding {
		return sight.Way{}
	}
	own, square := k.own(), float64(k.model.Layout.Square)
	return sight.Way{Path: frame.Ahead(k.step.PiecePath, own[0]), Own: own, Round: pieceSeen * square,
		Reach: float64(k.model.Bases[k.step.Piece.Kind()]) / 2}
}

// show lets onlookers see a picture with a hand, and where the carriage stands.
func (k *vigil) show(pic photo.Picture, o sight.Obstacle) {
	at := k.own()[0]
	k.desk.Observe(desk.Event{Carriage: &at, Lift: k.model.Lift})
	k.desk.Observe(desk.Event{Picture: &pic, Reading: &sight.Reading{State: sight.Hand, Squares: o.Squares}})
}

func (k *vigil) say(ctx context.Context, text string, squares ...chess.Square) {
	k.note(k.desk.Say(ctx, text, squares...))
}

// note keeps an error of the log, which ends the stroke: nothing goes on that is not kept.
func (k *vigil) note(err error) {
	if err != nil && k.failed == nil && !k.isGivenUp {
		k.failed = err
		k.end()
	}
}
