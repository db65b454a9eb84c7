// SPDX-License-Identifier: Apache-2.0

package search

import (
	"context"
	"time"

	"boardhand/internal/chess"
)

// Scores are centipawns for the side to move; a mate in n plies is worth mated−n.
const (
	mated       = 32000
	deepest     = 100 // plies
	longestMate = mated - 2*deepest
	infinite    = mated + 1
	drawn       = 0
)

// frame is the work sheet of one ply.
type frame struct {
	moves   []chess.Move
	room    [256]chess.Move // behind moves
	marks   [256]int32
	killers [2]chess.Move
	eval    int
	check   bool // the side to move is in check
	line    [deepest + 2]chess.Move
	length  int // of line, the best moves from here
}

// searcher is one search.
type searcher struct {
	pos     chess.Position
	memory  *memory
	frames  [deepest + 4]frame
	history [2][64][64]int32
	keys    []uint64 // of the game and of the moves searched, up to the position
	root    int      // where in keys the root is
	patient int      // half-moves without pawn move or capture that make a draw

	ctx      context.Context
	deadline time.Time // zero: none
	most     uint64    // nodes; 0: any number
	nodes    uint64
	stopped  bool
}

// tick counts a node and says whether to stop.
func (s *searcher) tick() bool {
	if s.stopped {
		return true
	}
	if s.most > 0 && s.nodes >= s.most {
		s.stopped = true
		return true
	}
	if s.nodes++; s.nodes%checkEvery == 0 && s.late() {
		s.stopped = true
	}
	return s.stopped
}

// late says whether time is up or nobody waits any more.
func (s *searcher) late() bool {
	return s.ctx.Err() != nil || !s.deadline.IsZero() && !time.Now().Before(s.deadline)
}

// play makes a move and notes the key and whether it gives check.
func (s *searcher) play(m chess.Move, ply int) chess.Undo {
	u := s.pos.Make(m)
	s.keys = append(s.keys, s.pos.Key())
	s.frames[ply+1].check = s.pos.InCheck()
	return u
}

func (s *searcher) takeBack(m chess.Move, u chess.Undo) {
	s.pos.Unmake(m, u)
	s.keys = s.keys[:len(s.keys)-1]
}

// isDrawn says whether the position is drawn by repetition, the fifty-move rule
// or because nobody can mate. One repetition within the search is enough; of a
// position before the root it takes the second.
func (s *searcher) isDrawn() bool {
	clock := s.pos.HalfmoveClock()
	if clock >= s.patient && (!s.pos.InCheck() || len(s.pos.LegalMoves(nil)) > 0) {
		return true
	}
	if clock >= 4 {
		here, seen := len(s.keys)-1, 0
		for i := here - 4; i >= 0 && i >= here-clock; i -= 2 {
			if s.keys[i] != s.keys[here] {
				continue
			}
			if seen++; i >= s.root || seen == 2 {
				return true
			}
		}
	}
	return s.pos.Dead()
}

// extend makes m followed by the line of the next ply the best line of a ply.
func (s *searcher) extend(ply int, m chess.Move) {
	f, next := &s.frames[ply], &s.frames[ply+1]
	f.line[0] = m
	n := copy(f.line[1:], next.line[:next.length])
	f.length = n + 1
}
