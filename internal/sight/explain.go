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
	v := r.seen
	if v == nil {
		return ""
	}
	var b strings.Builder
	const most = 6
	for _, g := range v.hypotheses[:min(most, len(v.hypotheses))] {
		fmt.Fprintf(&b, "%s %s: belief %.3g, %.1f nats behind\n", g.state, g.move, g.score, -g.nats)
		for k, is := range g.gone {
			if is && k < len(v.pieces) {
				fmt.Fprintf(&b, "  %s left %s or was touched\n", v.pieces[k].piece, v.pieces[k].square)
			}
		}
		for _, m := range g.stood {
			d := m.at.Sub(r.setup.centre(m.square)).Scale(1e3)
			fmt.Fprintf(&b, "  %s on %s at (%.1f, %.1f) mm%s\n", m.piece, m.square, d.X, d.Y, map[bool]string{true: ", in another light"}[m.relit])
		}
	}
	for _, p := range v.left {
		fmt.Fprintf(&b, "unexplained: %.0f mm², %.0f on the field, %v\n", p.area, p.inside, p.squares)
	}
	return b.String()
}
