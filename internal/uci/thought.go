// SPDX-License-Identifier: Apache-2.0

package uci

import (
	"strconv"

	"boardhand/internal/chess"
)

// Thought is the player's answer.
type Thought struct {
	Move    chess.Move
	ScoreCP int // from the side to move
	Mate    int // moves; negative: gets mated; 0: no mate seen
	Depth   int
	Nodes   uint64
	PV      []chess.Move
}

// note takes what an info line tells; words it does not know are passed over.
func (t *Thought) note(f []string, pos *chess.Position) {
	for i := 0; i+1 < len(f); i++ {
		n, err := strconv.Atoi(f[i+1])
		switch f[i] {
		case "depth":
			if err == nil {
				t.Depth = n
			}
		case "nodes":
			if v, err := strconv.ParseUint(f[i+1], 10, 64); err == nil {
				t.Nodes = v
			}
		case "cp":
			if err == nil {
				t.ScoreCP, t.Mate = n, 0
			}
		case "mate":
			if err == nil {
				t.Mate = n
			}
		case "string":
			return // the rest is free text
		case "pv":
			t.PV = line(*pos, f[i+1:])
			return
		}
	}
}

// line reads legal moves up to the first that is none.
func line(pos chess.Position, words []string) []chess.Move {
	var out []chess.Move
	for _, w := range words {
		m, err := pos.ParseUCI(w)
		if err != nil {
			break
		}
		out = append(out, m)
		pos = pos.After(m)
	}
	return out
}
