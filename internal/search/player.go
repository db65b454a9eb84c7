// SPDX-License-Identifier: Apache-2.0

// Package search holds the built-in player: it looks ahead on the positions of
// package chess by iterative deepening and chooses a move.
package search

import (
	"context"
	"errors"
	"fmt"
	"time"

	"boardhand/internal/chess"
)

// Root is the position to think about and how the game came to it.
type Root struct {
	Position chess.Position
	Keys     []uint64 // of all positions of the game up to Position, as Game.Keys gives; may be nil
}

// At is the root of a game as it stands.
func At(g *chess.Game) Root { return Root{Position: g.Position(), Keys: g.Keys()} }

// Limits end the thinking; what comes first counts, zero means no limit. With
// Depth or Nodes and without Time the result depends on Root and Limits alone.
type Limits struct {
	Time  time.Duration
	Depth int    // plies
	Nodes uint64 // positions looked at; a few hundred make a weak player
}

// Result is what thinking found.
type Result struct {
	Move    chess.Move
	ScoreCP int // centipawns for the side to move; ±30000 and beyond for a mate
	Mate    int // moves to mate: positive for the side to move, negative against it, 0 none seen
	Depth   int // plies searched completely
	Nodes   uint64
	Time    time.Duration
	PV      []chess.Move // the best line, Move first
}

// Worth says what the line is worth to the side to move: a mate, or pawns.
func (r Result) Worth() string {
	switch {
	case r.Mate > 0:
		return fmt.Sprintf("mates in %d", r.Mate)
	case r.Mate < 0:
		return fmt.Sprintf("is mated in %d", -r.Mate)
	}
	return fmt.Sprintf("%+.2f pawns", float64(r.ScoreCP)/100)
}

// Player is the built-in player. It must not be used by two goroutines at once.
type Player struct {
	Progress func(Result) // if set, told after every depth

	memory *memory
	s      searcher
}

// NewPlayer makes a player with a memory of at most the given megabytes.
func NewPlayer(megabytes int) (*Player, error) {
	m, err := newMemory(megabytes)
	if err != nil {
		return nil, err
	}
	return &Player{memory: m}, nil
}

// ErrNoLimit says that thinking would never end.
var ErrNoLimit = errors.New("say how long to think: time, depth, nodes, or a context that can end")

// Think looks for the best move. It stops at the limits or, within
// milliseconds, when ctx ends; then the best move so far comes with ctx's
// error. Positions without a legal move are errors.
func (p *Player) Think(ctx context.Context, g Root, lim Limits) (Result, error) {
	begun := time.Now()
	if lim == (Limits{}) && ctx.Done() == nil {
		return Result{}, ErrNoLimit
	}
	if lim.Time < 0 || lim.Depth < 0 {
		return Result{}, fmt.Errorf("limits must not be negative; got time %v, depth %d", lim.Time, lim.Depth)
	}
	if err := playable(&g.Position); err != nil {
		return Result{}, err
	}
	p.prepare(ctx, g, lim)
	best := p.deepen(lim, begun)
	return best, ctx.Err()
}

// playable refuses positions in which there is nothing to choose.
func playable(pos *chess.Position) error {
	if pos.ByKind(chess.King).Count() != 2 {
		return errors.New("no position was given: take chess.Start or chess.ParseFEN")
	}
	if len(pos.LegalMoves(nil)) > 0 {
		return nil
	}
	if pos.InCheck() {
		return fmt.Errorf("%s is checkmated: there is no move to find in %s", pos.SideToMove(), pos.FEN())
	}
	return fmt.Errorf("%s is stalemated: there is no move to find in %s", pos.SideToMove(), pos.FEN())
}

// Half-moves without a pawn move or capture after which a draw may be claimed,
// and after which the game ends (FIDE 9.3, 9.6.2).
const (
	fiftyMoves       = 100
	seventyFiveMoves = 150
)

// prepare sets the searcher up.
func (p *Player) prepare(ctx context.Context, g Root, lim Limits) {
	s := &p.s
	s.pos, s.memory, s.ctx, s.most = g.Position, p.memory, ctx, lim.Nodes
	s.nodes, s.stopped, s.deadline = 0, false, time.Time{}
	s.history = [2][64][64]int32{}
	for i := range s.frames {
		s.frames[i].killers = [2]chess.Move{}
	}
	s.keys = append(s.keys[:0], g.Keys...)
	if n := len(s.keys); n == 0 || s.keys[n-1] != s.pos.Key() {
		s.keys = append(s.keys[:0], s.pos.Key())
	}
	s.root = len(s.keys) - 1
	s.patient = fiftyMoves
	if s.pos.HalfmoveClock() >= fiftyMoves {
		s.patient = seventyFiveMoves // nobody has claimed: play for what is left
	}
	s.frames[0].check = s.pos.InCheck()
	p.memory.begin(lim.Time == 0 && (lim.Depth > 0 || lim.Nodes > 0))
}

// deepen searches one ply deeper at a time.
func (p *Player) deepen(lim Limits, begun time.Time) Result {
	s := &p.s
	most := deepest - 1
	if lim.Depth > 0 {
		most = min(lim.Depth, most)
	}
	moves := s.pos.LegalMoves(nil)
	best := Result{Move: moves[0], PV: moves[:1:1]}
	score := 0
	for depth := 1; depth <= most; depth++ {
		score = s.aspire(depth, score)
		if s.frames[0].length > 0 {
			best = s.report(best, score)
		}
		best.Nodes, best.Time = s.nodes, time.Since(begun)
		if s.stopped {
			break
		}
		best.Depth = depth
		if lim.Time > 0 { // the clock counts once there is a considered move
			s.deadline = begun.Add(lim.Time)
		}
		if p.Progress != nil {
			p.Progress(best)
		}
		if s.enough(lim, best, len(moves)) {
			break
		}
	}
	return best
}

// report fills in the best line found.
func (s *searcher) report(r Result, score int) Result {
	f := &s.frames[0]
	r.PV = append([]chess.Move(nil), f.line[:f.length]...)
	r.Move, r.ScoreCP, r.Mate = r.PV[0], score, 0
	switch {
	case score >= longestMate:
		r.Mate = (mated - score + 1) / 2
	case score <= -longestMate:
		r.Mate = -(mated + score + 1) / 2
	}
	return r
}

// enough says whether a deeper search is not worth beginning: a mate is sure,
// or the next depth would hardly be finished in time.
func (s *searcher) enough(lim Limits, best Result, choices int) bool {
	plies := mated - abs(best.ScoreCP)
	if best.Mate != 0 && best.Depth >= plies+mateMargin {
		return true
	}
	if lim.Time == 0 {
		return false
	}
	return best.Time > lim.Time/2 || choices == 1 && best.Depth >= 8
}

// aspire searches one depth in a narrow window round the last score, and
// widens it where the score falls outside.
func (s *searcher) aspire(depth, last int) int {
	alpha, beta, margin := -infinite, infinite, firstMargin
	if depth >= 5 && abs(last) < longestMate {
		alpha, beta = last-margin, last+margin
	}
	for {
		score := s.search(window{alpha, beta, depth}, 0, false)
		if s.stopped {
			return score
		}
		margin *= 4
		switch {
		case score <= alpha && alpha > -infinite:
			alpha = max(score-margin, -infinite)
		case score >= beta && beta < infinite:
			beta = min(score+margin, infinite)
		default:
			return score
		}
		if margin > 1000 {
			alpha, beta = -infinite, infinite
		}
	}
}
