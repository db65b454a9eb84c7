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
		b.WriteString(g.Describe(v.pieces, r.setup.Centre))
	}
	for _, p := range v.residuals {
		fmt.Fprintf(&b, "unexplained: %.0f mm², %.0f on the field, %v\n", p.Area, p.Inside, p.Squares)
	}
	return b.String()
}
