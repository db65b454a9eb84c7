// SPDX-License-Identifier: Apache-2.0

package table

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/notice"
	"boardhand/internal/sight"
)

// remindAfter is how many settled pictures of a board that stays as it is go by
// before it is said again what is missing: half a minute at one look in three
// seconds. Doubling it lets a person wait longer who did not hear it.
const remindAfter = 8

// insistence decides when something is said again.
type insistence struct {
	about *sight.Reading // nil: nothing was said yet
	count int            // settled pictures since it was said
}

// isDue says whether what is missing should be said of a settled reading: when
// it is of another kind than the last one, and again after a while. Which
// squares differ may flicker from picture to picture.
func (n *insistence) isDue(r sight.Reading) bool {
	n.count++
	if n.about != nil && n.about.State == r.State && (alike(*n.about, r) || n.count < flickers) && n.count < remindAfter {
		return false
	}
	n.about, n.count = &r, 0
	return true
}

// flickers is after how many settled pictures other squares are worth another word.
const flickers = 3

// doubts is what has been said and asked of the board as it is, so that
// nothing is said or asked twice of the same sight.
type doubts struct {
	said    insistence   // what was explained last
	refused []chess.Move // candidates to which a person answered "none of these"
	hands   int          // pictures in a row with a hand
	odd     int          // settled pictures in a row that nothing explains
}

// handAfter is how many pictures in a row show a hand before the guest is told
// where: some three seconds at five pictures a second. Doubling it doubles how
// long a guest wonders why nothing happens.
const handAfter = 15

// stayingHand tells the guest of a hand, or what looks like one, that stays.
func (t *Table) stayingHand(ctx context.Context, r sight.Reading) error {
	if t.doubts.hands++; t.doubts.hands%(4*handAfter) != handAfter {
		return nil
	}
	text := "I see a hand over the board."
	if len(r.Squares) > 0 {
		text = fmt.Sprintf("I see a hand, or a thing, at %s.", list(r.Squares))
	}
	return t.tell(ctx, notice.Notice{Kind: notice.Wait, Squares: r.Squares,
		Text: text + " I go on when it is gone; if nothing is there, ask me to look afresh."})
}

// occupancy is what single places say of the 64 squares.
type occupancy [64]sight.Presence

// occupied looks at each square of the last picture by itself, once: that takes
// over half a second.
func (t *Table) occupied() *occupancy {
	if t.squares != nil {
		return t.squares
	}
	at := make([]frame.Spot[frame.Board], 64)
	for q := range at {
		at[q] = t.centre(chess.Square(q))
	}
	t.squares = (*occupancy)(t.p.Eye.Present(at))
	return t.squares
}

// leastShare bounds what one square may say against a board: the models behind
// it are wrong about once in a thousand squares (measured on the twin).
const leastShare = 1e-3

// nats is the log-likelihood of a piece, or none, on a square.
func nats(p sight.Presence, piece chess.Piece) float64 {
	if !p.Open {
		return 0
	}
	share := 1 - p.Belief
	if piece != chess.NoPiece {
		side := p.Sure
		if piece.Color() != p.Side {
			side = 1 - p.Sure
		}
		share = p.Belief * side
	}
	return math.Log(max(share, leastShare))
}

// likelihood is how likely the squares look so under a board, in nats.
func (o *occupancy) likelihood(board [64]chess.Piece) float64 {
	sum := 0.0
	for q, p := range board {
		sum += nats(o[q], p)
	}
	return sum
}

// differing lists the squares that plainly look other than a board says: the
// other is sureOdds times likelier.
func (o *occupancy) differing(board [64]chess.Piece) (out []chess.Square) {
	for q, p := range board {
		if o[q].Open && nats(o[q], p) < -math.Log(sureOdds) {
			out = append(out, chess.Square(q))
		}
	}
	return out
}

// open says whether all squares can be seen.
func (o *occupancy) open() bool {
	for _, p := range o {
		if !p.Open {
			return false
		}
	}
	return true
}

// sureOdds are the odds from which a single square is believed against what is
// expected there. Doubling them makes the machine ask a little more.
const sureOdds = 10

// proves says whether the last picture proves a board by its single squares,
// and no piece stands where none should.
func (t *Table) proves(board [64]chess.Piece) bool {
	o := t.occupied()
	if !o.open() {
		return false
	}
	for q, p := range board {
		if nats(o[q], p) < -math.Log(sureOdds/(sureOdds-1.0)) {
			return false
		}
	}
	return len(t.strangers(Person)) == 0
}

// strangers are pieces where none should stand: not on the board as it is
// believed, not in a slot. The piece believed at one place may be anywhere.
func (t *Table) strangers(lost Place) []sight.Stray {
	at, isPlace := t.spotOf(lost)
	var known []frame.Spot[frame.Board]
	for _, m := range t.scene().Pieces {
		if !isPlace || m.At.Distance(at) > arriveWithin*float64(t.s.Square) {
			known = append(known, m.At)
		}
	}
	return t.p.Eye.Strangers(known)
}

// explained finds the legal plies, at most two, after which the board would
// look as the single squares say, and how many nats the best explanation is
// ahead of the next one that looks different.
func (o *occupancy) explained(pos chess.Position) (moves []chess.Move, lead float64) {
	type story struct {
		moves []chess.Move
		nats  float64
	}
	stories := []story{{nil, o.likelihood(standing(pos))}}
	for _, a := range pos.LegalMoves(nil) {
		one := pos.After(a)
		stories = append(stories, story{[]chess.Move{a}, o.likelihood(standing(one)) - plyCost})
		for _, b := range one.LegalMoves(nil) {
			two := one.After(b)
			stories = append(stories, story{[]chess.Move{a, b}, o.likelihood(standing(two)) - 2*plyCost})
		}
	}
	best := slices.MaxFunc(stories, func(a, b story) int { return cmp.Compare(a.nats, b.nats) })
	next := math.Inf(-1)
	for _, s := range stories {
		if !slices.Equal(s.moves, best.moves) {
			next = max(next, s.nats)
		}
	}
	return best.moves, best.nats - next
}

// plyCost is the prior of one more ply, in nats: of some thirty moves one.
const plyCost = 3.4
