// SPDX-License-Identifier: Apache-2.0

package assess

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"boardhand/internal/rig"
)

// accept puts the maker's reasons to the lines that warn.
func accept(r *rig.Rig, checks []Check) []Check {
	for i := range checks {
		if checks[i].Verdict == Warn {
			checks[i].Accepted = r.Accept.Reason(checks[i].ID)
		}
	}
	return checks
}

// remarks tell what the maker accepts in vain.
func remarks(r *rig.Rig, checks []Check) (out []string) {
	for _, c := range checks {
		if r.Accept.Reason(c.ID) == "" {
			continue
		}
		switch c.Verdict {
		case Fail:
			out = append(out, fmt.Sprintf("[accept] names %s, which fails: only a warning can be accepted", c.ID))
		case Pass:
			out = append(out, fmt.Sprintf("[accept] names %s, which passes: the line can go", c.ID))
		}
	}
	return out
}

// Unknown is an error where the rig file accepts what is no check.
func Unknown(r *rig.Rig, checks []Check) error {
	var ids []string
	for _, c := range checks {
		ids = append(ids, c.ID)
	}
	for _, name := range slices.Sorted(maps.Keys(r.Accept)) {
		if !slices.Contains(ids, name) {
			return fmt.Errorf("%s: [accept] names %s, and there is no such check; nearest: %s", r.Name(), name, strings.Join(rig.Nearest(name, ids), ", "))
		}
	}
	return nil
}

// JudgeAccepted runs all checks, of what this version plays on too, in the machine's own
// order, without looking for changes.
func JudgeAccepted(r *rig.Rig) []Check {
	return accept(r, append(append(Judge(r), placed(r)...), driven(r)...))
}
