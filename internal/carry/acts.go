// SPDX-License-Identifier: Apache-2.0

package carry

import (
	"strings"

	"boardhand/internal/carry/plan"
	"boardhand/internal/game"
)

// groupAsks makes one question of each run of questions: a person is told once.
func (d *builder) groupAsks() {
	var out []plan.Step
	for i := 0; i < len(d.steps); {
		n := i
		for n < len(d.steps) && d.steps[n].Do == plan.Ask {
			n++
		}
		if n-i < 2 {
			out, i = append(out, d.steps[i]), i+1
			continue
		}
		out, d.asks, i = append(out, joined(d.steps[i:n])), d.asks-(n-i-1), n
	}
	d.steps = out
}

// joined is one question for what several ask: "Please do this, do that and
// do the other."
func joined(asks []plan.Step) plan.Step {
	s := plan.Step{Do: plan.Ask, From: game.NoSquare, To: game.NoSquare}
	var parts []string
	for _, a := range asks {
		parts = append(parts, strings.TrimSuffix(strings.TrimPrefix(a.Text, "Please "), "."))
		for _, one := range a.Single() {
			s.Acts = append(s.Acts, game.Act{Piece: one.Piece, From: one.From, To: one.To})
		}
	}
	s.Piece, s.Text = s.Acts[0].Piece, "Please "+and(parts)+"."
	return s
}

// and says "a", "a and b", "a, b and c".
func and(parts []string) string {
	n := len(parts)
	if n < 2 {
		return strings.Join(parts, "")
	}
	return strings.Join(parts[:n-1], ", ") + " and " + parts[n-1]
}
