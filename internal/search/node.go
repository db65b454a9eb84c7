// SPDX-License-Identifier: Apache-2.0

package search

import (
	"math"

	"boardhand/internal/chess"
)

// window is the task of one node: score the position within (alpha, beta),
// depth plies deep.
type window struct{ alpha, beta, depth int }

// zero says whether the window is only a yes-or-no question.
func (w window) zero() bool { return w.beta-w.alpha == 1 }

// search scores the position (principal variation search): the first move with
// the whole window, the others first with the question whether they are better.
// Afterwards frame ply holds the best line.
func (s *searcher) search(w window, ply int, mayPass bool) int {
	f := &s.frames[ply]
	f.length = 0
	if ply > 0 && s.isDrawn() {
		return drawn
	}
	if f.check {
		w.depth++
	}
	if w.depth <= 0 || ply >= deepest {
		return s.quiet(w, ply)
	}
	if s.tick() {
		return drawn
	}
	// No mate from here can beat one found nearer to the root.
	w.alpha, w.beta = max(w.alpha, ply-mated), min(w.beta, mated-ply-1)
	if w.alpha >= w.beta {
		return w.alpha
	}
	known, found := s.memory.find(s.pos.Key())
	if found && w.zero() && ply > 0 && int(known.depth) >= w.depth {
		if score, ok := usable(known, w, ply); ok {
			return score
		}
	}
	if !f.check {
		f.eval = evaluate(&s.pos)
		if w.zero() && mayPass {
			if score, cut := s.shortCut(w, ply); cut {
				return score
			}
		}
	}
	if known.move == 0 && w.depth >= 5 && ply > 0 {
		w.depth-- // without a move to try first, a shallower look comes first
	}
	return s.tryMoves(w, ply, known.move)
}

// usable says whether a remembered score answers the window.
func usable(m memo, w window, ply int) (int, bool) {
	score := fromMemory(m.score, ply)
	ok := m.bound == exact || m.bound == atLeast && score >= w.beta || m.bound == atMost && score <= w.alpha
	return score, ok
}

// shortCut looks for reasons to answer beta without trying moves: far ahead
// close to the leaves; or passing the move would still hold beta.
func (s *searcher) shortCut(w window, ply int) (int, bool) {
	f := &s.frames[ply]
	if abs(w.beta) >= longestMate {
		return 0, false
	}
	if w.depth <= 6 && f.eval-safeMargin*w.depth >= w.beta {
		return f.eval, true
	}
	us := s.pos.SideToMove()
	officers := s.pos.ByColor(us) &^ s.pos.ByKind(chess.Pawn) &^ s.pos.ByKind(chess.King)
	if w.depth < 3 || f.eval < w.beta || officers == 0 {
		return 0, false
	}
	u := s.pos.MakeNull()
	s.keys = append(s.keys, s.pos.Key())
	s.frames[ply+1].check = false
	less := 3 + w.depth/4 + min((f.eval-w.beta)/200, 2)
	score := -s.search(window{-w.beta, 1 - w.beta, w.depth - less}, ply+1, false)
	s.pos.UnmakeNull(u)
	s.keys = s.keys[:len(s.keys)-1]
	if s.stopped || score < w.beta {
		return 0, false
	}
	return min(score, longestMate-1), true // a mate found by passing proves nothing
}

// tryMoves searches the moves of the position.
func (s *searcher) tryMoves(w window, ply int, known chess.Move) int {
	f := &s.frames[ply]
	f.moves = s.pos.LegalMoves(f.room[:0])
	if len(f.moves) == 0 {
		return s.end(ply)
	}
	s.frames[ply+1].killers = [2]chess.Move{}
	s.arrange(f, known)
	best, bestMove, alpha := -infinite, chess.Move(0), w.alpha
	for i := range f.moves {
		m := f.pick(i)
		quiet := s.isQuiet(m)
		dull := best > -longestMate && s.dull(w, f, i, quiet)
		if dull && !quiet {
			continue
		}
		u := s.play(m, ply)
		if dull && !s.frames[ply+1].check {
			s.takeBack(m, u)
			continue
		}
		score := s.tryMove(window{alpha, w.beta, w.depth}, ply, i, quiet)
		s.takeBack(m, u)
		if s.stopped {
			return best
		}
		if score > best {
			best, bestMove = score, m
		}
		if score > alpha {
			alpha = score
			s.extend(ply, m)
		}
		if alpha >= w.beta {
			if quiet {
				s.reward(f, i, w.depth)
			}
			break
		}
	}
	s.remember(w, ply, best, bestMove)
	return best
}

// end is the score of a position without a legal move.
func (s *searcher) end(ply int) int {
	if s.frames[ply].check {
		return ply - mated
	}
	return drawn
}

// isQuiet says whether a move neither takes nor promotes.
func (s *searcher) isQuiet(m chess.Move) bool {
	taken, _ := s.pos.Captured(m)
	return taken == chess.NoPiece && m.Promotion() == chess.NoKind
}

// dull says whether move number i need not be tried, if it is no quiet move
// that gives check: close to the leaves, late quiet moves, quiet moves in a
// hopeless position, and captures that lose pieces.
func (s *searcher) dull(w window, f *frame, i int, quiet bool) bool {
	if !w.zero() || f.check || w.depth > 6 || i == 0 {
		return false
	}
	if !quiet {
		return f.marks[i] < markLoss/2 && !exchange(&s.pos, f.moves[i], -90*w.depth)
	}
	late := i > 4+w.depth*w.depth
	futile := f.eval+futileMargin*w.depth+60 <= w.alpha
	return late || futile
}

// fewer is by how much a late quiet move is searched less deep, by depth and
// number: common practice is a product of logarithms.
var fewer = func() (t [64][64]int8) {
	for d := 1; d < 64; d++ {
		for n := 1; n < 64; n++ {
			t[d][n] = int8(fewerLeast + math.Log(float64(d))*math.Log(float64(n))/fewerSlope)
		}
	}
	return t
}()

// tryMove scores the position after move number i of a ply.
func (s *searcher) tryMove(w window, ply, i int, quiet bool) int {
	depth := w.depth - 1
	if i == 0 {
		return -s.search(window{-w.beta, -w.alpha, depth}, ply+1, true)
	}
	less := 0
	if quiet && w.depth >= 3 && i >= 3 && !s.frames[ply].check && !s.frames[ply+1].check {
		less = int(fewer[min(w.depth, 63)][min(i, 63)])
		if !w.zero() || s.frames[ply].marks[i] >= markKiller {
			less--
		}
		less = min(max(less, 0), depth-1)
	}
	score := -s.search(window{-w.alpha - 1, -w.alpha, depth - less}, ply+1, true)
	if score > w.alpha && less > 0 {
		score = -s.search(window{-w.alpha - 1, -w.alpha, depth}, ply+1, true)
	}
	if score > w.alpha && score < w.beta {
		score = -s.search(window{-w.beta, -w.alpha, depth}, ply+1, true)
	}
	return score
}

// remember keeps the result of a node.
func (s *searcher) remember(w window, ply, best int, move chess.Move) {
	b := exact
	switch {
	case best >= w.beta:
		b = atLeast
	case best <= w.alpha:
		b = atMost
		move = 0 // no move was better than another
	}
	s.memory.keep(memo{key: s.pos.Key(), move: move, score: toMemory(best, ply), depth: int8(w.depth), bound: b})
}
