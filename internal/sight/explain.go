// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"fmt"
	"strings"
)

// Explain tells in a few lines what the last reading rests on: the leading
// explanations with what each changes, and what stays unexplained. Empty when
// the last picture was a clear hand or has been accepted.
func (r *Reader) Explain() string {
	v := r.pending
	if v == nil {
		return ""
	}
	var b strings.Builder
	const most = 6
	for _, g := range v.hypotheses[:min(most, len(v.hypotheses))] {
		fmt.Fprintf(&b, "%s %s: belief %.3g, %.1f nats behind\n", g.State, g.Move, g.Belief, -g.Lag)
		for k, is := range g.Gone {
			if is && k < len(v.pieces) {
				fmt.Fprintf(&b, "  %s left %s or was touched\n", v.pieces[k].Piece, v.pieces[k].Square)
			}
		}
		for _, m := range g.Stood {
			d := m.At.Sub(r.setup.Centre(m.Square)).Scale(1e3)
			fmt.Fprintf(&b, "  %s on %s at (%.1f, %.1f) mm%s\n", m.Piece, m.Square, d.X, d.Y, map[bool]string{true: ", in another light"}[m.Relit]+map[bool]string{true: ", lying"}[m.Lies])
		}
	}
	for _, p := range v.residuals {
		fmt.Fprintf(&b, "unexplained: %.0f mm², %.0f on the field, %v\n", p.Area, p.Inside, p.Squares)
	}
	return b.String()
}
