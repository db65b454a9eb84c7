// SPDX-License-Identifier: Apache-2.0

package assess

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"boardhand/internal/assess/knob"
	"boardhand/internal/rig"
)

// mend looks for changes that turn check i to pass, each tried by judging the
// changed rig. Clean ones, after which nothing else newly fails, come first.
func (s *study) mend(i int, was []Check) []Fix {
	var out []Fix
	clean := 0
	for _, name := range probes[i].knobs {
		if clean == mostFixes {
			break
		}
		f, ok := s.try(i, name, was)
		if !ok {
			continue
		}
		if len(f.Breaks) == 0 {
			clean++
		}
		out = append(out, f)
	}
	sort.SliceStable(out, func(a, b int) bool { return len(out[a].Breaks) < len(out[b].Breaks) })
	if clean > 0 {
		out = out[:min(clean, mostFixes)]
	}
	return out[:min(len(out), mostFixes)]
}

// try turns one knob by the fewest steps that make check i pass.
func (s *study) try(i int, name string, was []Check) (Fix, bool) {
	k, ok := knob.Named(name[1:])
	if !ok {
		return Fix{}, false
	}
	sign := 1
	if name[0] == '-' {
		sign = -1
	}
	last := s // lends its force table to the next try
	verdict := func(n int) (Check, bool) {
		r, in := k.Turn(s.Rig, sign*n)
		if !in {
			return Check{}, false
		}
		last = newStudy(r, last)
		return probes[i].judge(last).sealed(), true
	}
	n, ok := fewest(verdict)
	if !ok {
		return Fix{}, false
	}
	r, _ := k.Turn(s.Rig, sign*n)
	then := newStudy(r, last)
	c := probes[i].judge(then)
	return Fix{Set: changed(k, s.Rig, r), Effect: effect(was[i], c), Breaks: newlyFailing(was, then.judge())}, true
}

// fewest finds the smallest number of steps for which the check passes. It
// takes for granted that turning further does not undo it.
func fewest(verdict func(int) (Check, bool)) (int, bool) {
	failing, out := 0, 1
	for out <= mostSteps {
		c, in := verdict(out)
		if !in {
			break
		}
		if c.Verdict == Pass {
			return halve(failing, out, verdict), true
		}
		failing, out = out, out*2
	}
	for out-failing > 1 { // look for the last step inside the bounds
		mid := (failing + out) / 2
		c, in := verdict(mid)
		switch {
		case !in:
			out = mid
		case c.Verdict == Pass:
			return halve(failing, mid, verdict), true
		default:
			failing = mid
		}
	}
	return 0, false
}

// halve narrows the steps between one that fails and one that passes.
func halve(failing, passing int, verdict func(int) (Check, bool)) int {
	for passing-failing > 1 {
		mid := (failing + passing) / 2
		if c, in := verdict(mid); in && c.Verdict == Pass {
			passing = mid
		} else {
			failing = mid
		}
	}
	return passing
}

// changed lists the settings that differ.
func changed(k knob.Knob, was, now *rig.Rig) (out []Setting) {
	before, after := k.Settings(was), k.Settings(now)
	for i := range after {
		if after[i] != before[i] {
			out = append(out, Setting(after[i]))
		}
	}
	return out
}

// effect tells how the check's value, its limit or both change.
func effect(was, now Check) string {
	limit := math.Abs(was.Limit-now.Limit) > noted*math.Abs(now.Limit)
	value := math.Abs(was.Value-now.Value) > noted*math.Abs(now.Value)
	switch {
	case limit && !value:
		return fmt.Sprintf("limit %s → %s %s", figure(was.Limit), figure(now.Limit), now.Unit)
	case limit:
		return fmt.Sprintf("%s → %s %s, limit %s", figure(was.Value), figure(now.Value), now.Unit, figure(now.Limit))
	}
	return fmt.Sprintf("%s → %s %s", figure(was.Value), figure(now.Value), now.Unit)
}

// figure writes a number with three digits.
func figure(v float64) string {
	if math.Abs(v) >= 1000 {
		return fmt.Sprintf("%.0f", v)
	}
	s := fmt.Sprintf("%.3g", v)
	if strings.Contains(s, "e") {
		s = fmt.Sprintf("%.4f", v)
	}
	return s
}

// newlyFailing lists checks that fail now and did not before.
func newlyFailing(was, now []Check) (out []string) {
	for i := range now {
		if now[i].Verdict == Fail && was[i].Verdict != Fail {
			out = append(out, now[i].ID)
		}
	}
	return out
}
