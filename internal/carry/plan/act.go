// SPDX-License-Identifier: Apache-2.0

package plan

// Single takes a question that asks for several things apart: one step for
// each. Any other step is itself.
func (s Step) Single() []Step {
	if len(s.Acts) == 0 {
		return []Step{s}
	}
	out := make([]Step, len(s.Acts))
	for i, a := range s.Acts {
		out[i] = Step{Do: Ask, Piece: a.Piece, From: a.From, To: a.To, Text: s.Text}
	}
	return out
}
