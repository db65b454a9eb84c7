// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/sight/hypothesis"
	"boardhand/internal/sight/inference"
	"boardhand/internal/sight/scene"
)

// Bounds of what is believed of a piece that was lost on the way.
const (
	seekNats   = 15.0 // a piece seen must be this much likelier than none
	seekLeaves = 0.5  // of the smallest base may stay unexplained beside it
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
	q := inference.New(r.seen.glance)
	g := hypothesis.Hypothesis{State: Illegal, After: scene.OccupancyOf(&r.pos), Gone: make([]bool, len(q.Scene.Pieces))}
	for k := range q.Scene.Pieces {
		if s := q.Scene.Pieces[k].Square; s == from || slices.Contains(gone, s) {
			g.Gone[k] = true
			g.After[s] = chess.NoPiece
		}
	}
	none := q.Evidence(g.Gone, nil)
	m, score := q.Seek(&g, r.pos.At(from))
	g.Stood = []scene.Placement{m}
	if score-none < seekNats || q.Unexplained(&g) > seekLeaves*q.Scene.Setup.LeastBase()*1e6 {
		return Stray{}, false
	}
	return Stray{Side: m.Piece.Color(), At: m.At, Sigma: q.Sigma(g.Gone, g.Stood, 0, score)}, true
}
