// SPDX-License-Identifier: Apache-2.0

package sight

// measure says where the pieces of the best hypothesis stand in their squares.
func (v *decision) measure() {
	v.reading.Offsets = nil
	if v.reading.State == Unsure || v.reading.State == Hand {
		return
	}
	e, best := v.tracker, &v.hypotheses[0]
	var at [64]*Offset
	for k, m := range v.pieces {
		if !best.Gone[k] {
			at[m.Square] = &Offset{Square: m.Square, Delta: m.At.Sub(e.Setup.Centre(m.Square)), Sigma: m.Sigma}
		}
	}
	for k, m := range best.Stood {
		sigma := v.search.PlacedSigma(best, k)
		at[m.Square] = &Offset{Square: m.Square, Delta: m.At.Sub(e.Setup.Centre(m.Square)), Sigma: sigma}
	}
	for _, o := range at {
		if o != nil {
			v.reading.Offsets = append(v.reading.Offsets, *o)
		}
	}
}
