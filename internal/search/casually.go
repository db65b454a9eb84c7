// SPDX-License-Identifier: Apache-2.0

package search

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"time"

	"boardhand/internal/chess"
)

// view says which squares a casual player does not see what stands there can do.
type view [64]bool

// viewOf leaves each piece out of view by chance, but a king.
func viewOf(pos *chess.Position, overlooks float64, rng *rand.Rand) (v view) {
	for q := range chess.NoSquare {
		if p := pos.At(q); p != chess.NoPiece && p.Kind() != chess.King {
			v[q] = rng.Float64() < overlooks
		}
	}
	return v
}

// playCasually judges the moves that come to mind by the answers that come to
// mind, and takes one that seems as good as any.
func (p *Player) playCasually(ctx context.Context, g Root, how Strength, rng *rand.Rand) (Result, error) {
	begun := time.Now()
	if err := playable(&g.Position); err != nil {
		return Result{}, err
	}
	p.prepare(ctx, g, Limits{Nodes: how.Nodes})
	s := &p.s
	unseen := viewOf(&s.pos, how.Overlooks, rng)
	moves := s.considered(unseen)
	worths := make([]int, len(moves))
	reached := 0
	for depth := 1; depth <= how.Depth && (depth == 1 || !s.stopped); depth++ {
		if s.most = how.Nodes; depth == 1 { // each move is looked at once
			s.most = 0
		}
		if found := s.judgeAll(moves, depth, unseen); !s.stopped {
			worths, reached = found, depth
		}
	}
	i := pick(worths, s.tastes(moves), how.Blur, rng)
	return Result{Move: moves[i], ScoreCP: worths[i], Depth: reached, Nodes: s.nodes, Time: time.Since(begun), PV: moves[i : i+1 : i+1]}, ctx.Err()
}

// considered are the moves that come to mind: those of the pieces in view. In
// check, and where no piece is in view, they are all.
func (s *searcher) considered(unseen view) []chess.Move {
	all := s.pos.LegalMoves(nil)
	if s.frames[0].check {
		return all
	}
	var out []chess.Move
	for _, m := range all {
		if !unseen[m.From()] {
			out = append(out, m)
		}
	}
	if len(out) == 0 {
		return all
	}
	return out
}

func (s *searcher) judgeAll(moves []chess.Move, depth int, unseen view) []int {
	worths := make([]int, len(moves))
	for i, m := range moves {
		worths[i] = min(max(s.judge(m, depth, unseen), -surelyWon), surelyWon)
		if s.stopped {
			break
		}
	}
	return worths
}

// judge is the worth of a move by the answers of the opponent's pieces in view,
// each looked at so many plies ahead, less one, and then to a quiet position.
// An answer out of view is taken to change nothing.
func (s *searcher) judge(m chess.Move, depth int, unseen view) int {
	const root, reply = 0, 1
	taken := s.play(m, root)
	defer s.takeBack(m, taken)
	f := &s.frames[reply]
	f.moves = s.pos.LegalMoves(f.room[:0])
	if len(f.moves) == 0 {
		return -s.end(reply)
	}
	if s.isDrawn() {
		return drawn
	}
	best := -infinite
	for _, r := range f.moves {
		if unseen[r.From()] && r.To() != m.To() { // where a piece is put down is looked at
			best = max(best, evaluate(&s.pos))
			continue
		}
		u := s.play(r, reply)
		v := -s.search(window{-infinite, -best, depth - 1}, reply+1, false)
		s.takeBack(r, u)
		if s.stopped {
			return drawn
		}
		best = max(best, v)
	}
	return -best
}

// tastes are how much more or less readily people take a move than another that
// seems worth the same.
func (s *searcher) tastes(moves []chess.Move) []float64 {
	out := make([]float64, len(moves))
	hunted := s.pos.ByKind(chess.Queen) != 0
	for i, m := range moves {
		victim, _ := s.pos.Captured(m)
		switch {
		case s.pos.IsCastling(m):
			out[i] = likesCastling
		case victim != chess.NoPiece:
			out[i] = likesTaking
		case hunted && s.pos.At(m.From()).Kind() == chess.King:
			out[i] = likesKingWalks
		case hunted && (m.To().File() == 0 || m.To().File() == 7):
			out[i] = likesEdges
		default:
			out[i] = 1
		}
	}
	return out
}

// pick draws one of the moves by how readily it is taken: one that seems to lose
// what the blur is, or more, the more seldom the more it loses, by the bell of a normal
// distribution.
func pick(worths []int, tastes []float64, blur float64, rng *rand.Rand) int {
	best, sum := slices.Max(worths), 0.0
	weights := make([]float64, len(worths))
	for i, w := range worths {
		loss := float64(best-w) / max(blur, 1)
		weights[i] = tastes[i] * math.Exp(-loss*loss/2)
		sum += weights[i]
	}
	at := rng.Float64() * sum
	for i, w := range weights {
		if at -= w; at < 0 {
			return i
		}
	}
	return len(worths) - 1 // rounding
}
