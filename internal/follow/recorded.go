// SPDX-License-Identifier: Apache-2.0

package follow

import (
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/store"
	"boardhand/internal/table/journal"
)

// Recorded is what the log of a game says of its pictures; what it says of one
// that was not kept comes before the next.
func Recorded(entries []store.Entry, kept []string) Answers {
	out := Answers{}
	var earlier []Answer
	for _, e := range entries {
		a := Answer{}
		switch {
		case e.Move != "":
			a.Moves = []string{e.Move}
		case e.Back != "":
			a.Back = 1
		case e.State == string(journal.Arranging) && e.Task == journal.Task{}.String():
			start := chess.Start()
			a.Set = start.FEN()
		default:
			continue
		}
		if slices.Contains(kept, e.Picture) {
			a.earlier, earlier = earlier, nil
			out[e.Picture] = a
		} else {
			earlier = append(earlier, a)
		}
	}
	return out
}
