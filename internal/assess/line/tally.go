// SPDX-License-Identifier: Apache-2.0

package line

import "boardhand/internal/unit"

// Tally counts the lines by verdict.
type Tally struct {
	Pass, Warn, Fail int
	Accepted         int // warnings with the maker's reason
	Seen             int // cautions with how they are seen to
	Cautions         int // that nobody has seen to yet
}

// Apart are the words of what counts neither as passed nor as failed, for a summary: warnings
// with the maker's reason, cautions seen to, cautions that wait.
func (n Tally) Apart() (out []string) {
	for _, of := range []struct {
		count     int
		noun, how string
	}{{n.Accepted, "warning", "accepted"}, {n.Seen, "caution", "seen to"}, {n.Cautions, "caution", "to see to"}} {
		if of.count > 0 {
			out = append(out, unit.Count(of.count, of.noun)+" "+of.how)
		}
	}
	return out
}
