// SPDX-License-Identifier: Apache-2.0

package search

import "boardhand/internal/chess"

// Marks for the order in which moves are tried; the quiet ones in between go
// by their history, within ±historyLimit.
const (
	markKnown    = 1 << 30 // the best move remembered
	markGain     = 1 << 24 // captures that do not lose, and promotions to a queen
	markKiller   = 1 << 22
	markLoss     = -1 << 24
	historyLimit = 1 << 14
)

// arrange gives every move of the frame its mark.
func (s *searcher) arrange(f *frame, known chess.Move) {
	p := &s.pos
	side := p.SideToMove()
	for i, m := range f.moves {
		switch taken, _ := p.Captured(m); {
		case m == known:
			f.marks[i] = markKnown
		case taken != chess.NoPiece || m.Promotion() == chess.Queen:
			mark := markGain
			if !exchange(p, m, 0) {
				mark = markLoss
			}
			f.marks[i] = int32(mark + 16*worth[taken.Kind()] + worth[m.Promotion()] - worth[p.At(m.From()).Kind()]/16)
		case m.Promotion() != chess.NoKind:
			f.marks[i] = markLoss
		case m == f.killers[0]:
			f.marks[i] = markKiller + 1
		case m == f.killers[1]:
			f.marks[i] = markKiller
		default:
			f.marks[i] = s.history[side&1][m.From()][m.To()]
		}
	}
}

// pick moves the best of the moves from i on to place i.
func (f *frame) pick(i int) chess.Move {
	best := i
	for j := i + 1; j < len(f.moves); j++ {
		if f.marks[j] > f.marks[best] {
			best = j
		}
	}
	f.moves[i], f.moves[best] = f.moves[best], f.moves[i]
	f.marks[i], f.marks[best] = f.marks[best], f.marks[i]
	return f.moves[i]
}

// reward remembers the quiet move number i of the frame that refuted the
// position, and holds it against the quiet moves tried before it.
func (s *searcher) reward(f *frame, i, depth int) {
	m := f.moves[i]
	if f.killers[0] != m {
		f.killers[1], f.killers[0] = f.killers[0], m
	}
	bonus := int32(min(depth*depth*8, 1200))
	s.learn(m, bonus)
	for _, other := range f.moves[:i] {
		if taken, _ := s.pos.Captured(other); taken == chess.NoPiece && other.Promotion() == chess.NoKind {
			s.learn(other, -bonus)
		}
	}
}

// learn moves a history mark towards ±historyLimit by a part of the way.
func (s *searcher) learn(m chess.Move, bonus int32) {
	h := &s.history[s.pos.SideToMove()&1][m.From()][m.To()]
	size := max(bonus, -bonus)
	*h += bonus - *h*size/historyLimit
}
