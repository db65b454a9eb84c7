// SPDX-License-Identifier: Apache-2.0

package search

import (
	"context"
	"fmt"
	"math/rand/v2"

	"boardhand/internal/chess"
)

// Casual chooses a move as a casual person might, deliberately weak: every move
// is judged by a glance, sometimes without seeing the answer, and the judgement
// is blurred. Skill goes from 0, who overlooks much, to 1, a careful beginner.
// It plays on as long as there is a move; the choice depends on its input alone.
func Casual(g Root, rng *rand.Rand, skill float64) (chess.Move, error) {
	if !(skill >= 0 && skill <= 1) {
		return 0, fmt.Errorf("skill must be 0 to 1; got %v", skill)
	}
	if err := playable(&g.Position); err != nil {
		return 0, err
	}
	p := Player{memory: memoryOf(casualPlaces)}
	p.prepare(context.Background(), g, Limits{})
	best, move := 0.0, chess.Move(0)
	for _, m := range g.Position.LegalMoves(nil) {
		v := p.s.glance(m, rng, skill)
		if v += rng.NormFloat64() * (blurMost + skill*(blurLeast-blurMost)); move == 0 || v > best {
			best, move = v, m
		}
	}
	return move, nil
}

// glance is the worth of a move at a glance, centipawns.
func (s *searcher) glance(m chess.Move, rng *rand.Rand, skill float64) float64 {
	const root = 0
	u := s.play(m, root)
	defer s.takeBack(m, u)
	over := len(s.pos.LegalMoves(nil)) == 0
	switch {
	case !over && rng.Float64() < overlooks*(1-skill):
		return float64(-evaluate(&s.pos)) // does not look for the answer
	case rng.Float64() < looksDeeper*skill:
		return float64(-s.search(window{-infinite, infinite, 1}, root+1, false))
	case over && !s.frames[root+1].check || s.isDrawn():
		return drawn
	}
	return float64(-s.quiet(window{-infinite, infinite, 0}, root+1))
}
