// SPDX-License-Identifier: Apache-2.0

// Package evidence weighs what single squares of a picture show against a board,
// square by square, in nats.
package evidence

import (
	"cmp"
	"math"
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/sight"
	"boardhand/internal/table/places"
)

// Squares is what single places say of the 64 squares.
type Squares [64]sight.Presence

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
func (o *Squares) likelihood(board [64]chess.Piece) float64 {
	sum := 0.0
	for q, p := range board {
		sum += nats(o[q], p)
	}
	return sum
}

// Differing lists the squares that plainly look other than a board says: the
// other is sureOdds times likelier.
func (o *Squares) Differing(board [64]chess.Piece) (out []chess.Square) {
	for q, p := range board {
		if o[q].Open && nats(o[q], p) < -sureNats {
			out = append(out, chess.Square(q))
		}
	}
	return out
}

// IsOpen says whether all squares can be seen.
func (o *Squares) IsOpen() bool {
	for _, p := range o {
		if !p.Open {
			return false
		}
	}
	return true
}

// sureOdds are the odds from which a single square is believed against what is
// expected there: ten to one. Doubling them makes the machine ask a little more.
const sureOdds = 10

// sureNats are sureOdds as a log-likelihood ratio, in nats.
const sureNats = math.Ln10

// Explained finds the legal plies, at most two, after which the board would
// look as the single squares say, and how many nats the best explanation is
// ahead of the next one that looks different.
func (o *Squares) Explained(pos chess.Position) (moves []chess.Move, lead float64) {
	type story struct {
		moves []chess.Move
		nats  float64
	}
	stories := []story{{nil, o.likelihood(places.BoardOf(pos))}}
	for _, a := range pos.LegalMoves(nil) {
		one := pos.After(a)
		stories = append(stories, story{[]chess.Move{a}, o.likelihood(places.BoardOf(one)) - plyCost})
		for _, b := range one.LegalMoves(nil) {
			two := one.After(b)
			stories = append(stories, story{[]chess.Move{a, b}, o.likelihood(places.BoardOf(two)) - 2*plyCost})
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

// DifferingBoth lists the squares that look like neither of two boards.
func (o *Squares) DifferingBoth(a, b [64]chess.Piece) (out []chess.Square) {
	for q := range a {
		if o[q].Open && max(nats(o[q], a[q]), nats(o[q], b[q])) < -sureNats && nats(o[q], chess.NoPiece) < -sureNats {
			out = append(out, chess.Square(q))
		}
	}
	return out
}

// Proves says whether the squares prove a board: none speaks against its piece, or for another.
func (o *Squares) Proves(board [64]chess.Piece) bool {
	if !o.IsOpen() {
		return false
	}
	for q, p := range board {
		if nats(o[q], p) < -math.Log(sureOdds/(sureOdds-1.0)) {
			return false
		}
	}
	return true
}

// Between is the board as single squares show it, where each of some squares is
// as in one board or as in another and all else as in the first; false when it is not so, or
// one of the boards itself.
func (o *Squares) Between(before, after [64]chess.Piece, changing []chess.Square) ([64]chess.Piece, bool) {
	board := before
	for _, q := range changing {
		if !o[q].Open {
			return board, false
		}
		if nats(o[q], after[q]) > nats(o[q], before[q]) {
			board[q] = after[q]
		}
	}
	for q := range board {
		if o[q].Open && nats(o[q], board[q]) < -sureNats {
			return board, false
		}
	}
	return board, board != before && board != after
}

// IsVacant says whether a place plainly shows none where a piece is believed.
func IsVacant(p sight.Presence, piece chess.Piece) bool {
	return p.Open && nats(p, chess.NoPiece) > nats(p, piece)+sureNats
}

// IsTaken says whether a place plainly shows a piece.
func IsTaken(p sight.Presence) bool { return p.Open && p.Belief > 1-1.0/sureOdds }

// IsOf says whether a piece is seen about the place that was asked.
func IsOf(seen sight.Presence, piece chess.Piece) bool {
	return seen.Open && nats(seen, piece) > nats(seen, chess.NoPiece) && nats(seen, piece) > -sureNats
}
