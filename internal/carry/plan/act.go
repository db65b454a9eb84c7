// SPDX-License-Identifier: Apache-2.0

package plan

import "boardhand/internal/chess"

// Act is one thing a person does with one piece: it comes from From, or from
// beside the board when From is NoSquare; to NoSquare it goes off.
type Act struct {
	Piece    chess.Piece
	From, To chess.Square
}

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
