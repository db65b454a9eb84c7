// SPDX-License-Identifier: Apache-2.0

package search

import "boardhand/internal/chess"

// quiet scores the position once nothing is left to take: the side to move may
// stop at what it has, or take; in check, it tries every answer.
func (s *searcher) quiet(w window, ply int) int {
	f := &s.frames[ply]
	f.length = 0
	if s.tick() {
		return drawn
	}
	if ply >= deepest {
		return evaluate(&s.pos)
	}
	known, found := s.memory.find(s.pos.Key())
	if found && w.zero() {
		if score, ok := usable(known, w, ply); ok {
			return score
		}
	}
	best := ply - mated
	if f.check {
		f.moves = s.pos.LegalMoves(f.room[:0])
	} else {
		if best = evaluate(&s.pos); best >= w.beta {
			return best
		}
		f.moves = s.pos.NoisyMoves(f.room[:0])
	}
	f.eval = best
	f.killers = [2]chess.Move{}
	s.arrange(f, known.move)
	return s.tryTaking(w, ply)
}

// tryTaking searches the moves of a quiet node, whose value without a move is
// the frame's eval.
func (s *searcher) tryTaking(w window, ply int) int {
	f := &s.frames[ply]
	best, bestMove, alpha := f.eval, chess.Move(0), max(w.alpha, f.eval)
	for i := range f.moves {
		m := f.pick(i)
		if !f.check && (f.marks[i] < markLoss/2 || s.hopeless(f, m, alpha)) {
			continue
		}
		u := s.play(m, ply)
		score := -s.quiet(window{-w.beta, -alpha, 0}, ply+1)
		s.takeBack(m, u)
		if s.stopped {
			return best
		}
		if score > best {
			best, bestMove = score, m
			if score > alpha {
				alpha = score
				s.extend(ply, m)
			}
		}
		if alpha >= w.beta {
			break
		}
	}
	s.remember(window{w.alpha, w.beta, 0}, ply, best, bestMove)
	return best
}

// hopeless says whether a capture cannot bring the value up to alpha.
func (s *searcher) hopeless(f *frame, m chess.Move, alpha int) bool {
	taken, _ := s.pos.Captured(m)
	return m.Promotion() == chess.NoKind && f.eval+worth[taken.Kind()]+hope <= alpha
}
