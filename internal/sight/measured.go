// SPDX-License-Identifier: Apache-2.0

package sight

import "boardhand/internal/chess"

// measured says where the pieces of the best hypothesis stand in their squares.
func (v *verdict) measured(q *inquiry) []Offset {
	if v.reading.State == Unsure || v.reading.State == Hand {
		return nil
	}
	e, best := v.eye, &v.hypotheses[0]
	var at [64]*Offset
	for k, m := range v.pieces {
		if !best.gone[k] {
			at[m.square] = &Offset{Square: m.square, Delta: m.at.Sub(e.setup.centre(m.square)), Sigma: m.sigma}
		}
	}
	for k, m := range best.stood {
		sigma := q.sharpness(best, k)
		at[m.square] = &Offset{Square: m.square, Delta: m.at.Sub(e.setup.centre(m.square)), Sigma: sigma}
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
		for _, m := range r.eye.pieces {
			if m.square == s {
				out = append(out, Offset{Square: s, Delta: m.at.Sub(r.setup.centre(s)), Sigma: m.sigma})
			}
		}
	}
	return out
}
