// SPDX-License-Identifier: Apache-2.0

package hypothesis

import (
	"fmt"
	"strings"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/sight/scene"
)

// Describe tells in lines how likely a hypothesis is and what it changes, of the pieces of the
// scene; centre gives the middle of a square, metres.
func (g *Hypothesis) Describe(pieces []scene.Placement, centre func(chess.Square) frame.Spot[frame.Board]) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s %s: belief %.3g, %.1f nats behind\n", g.State, g.Move, g.Belief, -g.Lag)
	for k, is := range g.Gone {
		if is && k < len(pieces) {
			fmt.Fprintf(&b, "  %s left %s or was touched\n", pieces[k].Piece, pieces[k].Square)
		}
	}
	for _, m := range g.Stood {
		how := ""
		if m.Relit {
			how = ", in another light"
		}
		if m.Lies {
			how += ", lying"
		}
		d := m.At.Sub(centre(m.Square)).Scale(1e3)
		fmt.Fprintf(&b, "  %s on %s at (%.1f, %.1f) mm%s\n", m.Piece, m.Square, d.X, d.Y, how)
	}
	return b.String()
}
