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
	best, alpha := ply-mated, w.alpha
	if f.check {
		f.moves = s.pos.LegalMoves(f.room[:0])
	} else {
		best = evaluate(&s.pos)
		if alpha = max(alpha, best); alpha >= w.beta {
			return best
		}
		f.moves = s.pos.NoisyMoves(f.room[:0])
	}
	f.eval = best
	f.killers = [2]chess.Move{}
	s.arrange(f, known.move)
	return s.tryTaking(window{alpha, w.beta, w.alpha}, ply, best)
}

// hope is how much more than the man taken a capture may gain, centipawns.
const hope = 150

// tryTaking searches the moves of a quiet node. The window's depth carries the
// alpha the node began with.
func (s *searcher) tryTaking(w window, ply, best int) int {
	f, alpha := &s.frames[ply], w.alpha
	var bestMove chess.Move
	for i := range f.moves {
		m := f.pick(i)
		if !f.check {
			taken, _ := s.pos.Captured(m)
			hopeless := m.Promotion() == chess.NoKind && f.eval+worth[taken.Kind()]+hope <= alpha
			if f.marks[i] < markLoss/2 || hopeless {
				continue
			}
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
	s.remember(window{w.depth, w.beta, 0}, ply, best, bestMove)
	return best
}
