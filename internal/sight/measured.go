// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"boardhand/internal/chess"
	"boardhand/internal/sight/inference"
)

// measured says where the pieces of the best hypothesis stand in their squares.
func (v *verdict) measured(q *inference.Search) []Offset {
	if v.reading.State == Unsure || v.reading.State == Hand {
		return nil
	}
	e, best := v.eye, &v.hypotheses[0]
	var at [64]*Offset
	for k, m := range v.pieces {
		if !best.Gone[k] {
			at[m.Square] = &Offset{Square: m.Square, Delta: m.At.Sub(e.Setup.Centre(m.Square)), Sigma: m.Sigma}
		}
	}
	for k, m := range best.Stood {
		sigma := q.PlacedSigma(best, k)
		at[m.Square] = &Offset{Square: m.Square, Delta: m.At.Sub(e.Setup.Centre(m.Square)), Sigma: sigma}
	}
	var out []Offset
	for _, o := range at {
		if o != nil {
			out = append(out, *o)
		}
	}
	return out
}

// Offsets says where every piece stands in its square, by the last settled
// picture; nothing before the first.
func (r *Reader) Offsets() []Offset {
	if r.eye == nil {
		return nil
	}
	var out []Offset
	for s := range chess.NoSquare {
		for _, m := range r.eye.Pieces {
			if m.Square == s {
				out = append(out, Offset{Square: s, Delta: m.At.Sub(r.setup.Centre(s)), Sigma: m.Sigma})
			}
		}
	}
	return out
}
