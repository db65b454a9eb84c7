// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"cmp"
	"math"
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
)

// The search for a piece that was lost on the way.
const (
	seekStep   = 0.25 // of a square: half a foot of the smallest piece, so that none is stepped over
	seekBest   = 4    // places looked at closely
	seekNats   = 15.0 // a piece seen must be this much likelier than none
	seekLeaves = 0.5  // of a foot may stay unexplained beside it
)

// Seek looks in the last picture for the piece that stood on from and was
// carried off it: anywhere on the field, on lines too. gone are the squares
// whose pieces were taken off meanwhile. It says false when the piece is not seen
// standing. It is for a machine that knows which piece it moved: a reader that
// does not know asks Read.
func (r *Reader) Seek(from chess.Square, gone []chess.Square) (Stray, bool) {
	if r.seen == nil || r.pos.At(from) == chess.NoPiece {
		return Stray{}, false
	}
	q := newInquiry(r.seen.glance)
	g := hypothesis{state: Illegal, after: piecesOf(&r.pos), gone: make([]bool, len(q.scene.pieces))}
	for k := range q.scene.pieces {
		if s := q.scene.pieces[k].square; s == from || slices.Contains(gone, s) {
			g.gone[k] = true
			g.after[s] = chess.NoPiece
		}
	}
	none := q.score(g.gone, nil)
	m, score := q.seek(&g, r.pos.At(from))
	g.stood = []standing{m}
	if score-none < seekNats || q.unexplained(&g) > seekLeaves*q.scene.setup.leastFoot()*1e6 {
		return Stray{}, false
	}
	return Stray{Side: m.piece.Color(), At: m.at, Sigma: q.bluntness(g.gone, g.stood, 0, score)}, true
}

// seek tries the whole field and improves the best places.
func (q *inquiry) seek(g *hypothesis, p chess.Piece) (standing, float64) {
	type spot struct {
		m     standing
		score float64
	}
	var all []spot
	f, step := q.scene.setup.field(), seekStep*q.scene.setup.Square
	for y := -f + step; y < f; y += step {
		for x := -f + step; x < f; x += step {
			m := q.scene.standAt(p, q.nearest(x, y), frame.Spot[frame.Board]{X: x, Y: y})
			all = append(all, spot{m, q.score(g.gone, []standing{m})})
		}
	}
	slices.SortStableFunc(all, func(a, b spot) int { return cmp.Compare(b.score, a.score) })
	best := spot{score: math.Inf(-1)}
	for _, s := range all[:min(seekBest, len(all))] {
		stood := []standing{s.m}
		if v := q.climb(g.gone, stood, 0, s.score); v > best.score {
			best = spot{stood[0], v}
		}
	}
	return best.m, best.score
}

// nearest is the square that a place lies in.
func (q *inquiry) nearest(x, y float64) chess.Square {
	return q.scene.setup.squareAt(frame.Spot[frame.Board]{X: x, Y: y})
}
