// SPDX-License-Identifier: Apache-2.0

package remedy

import (
	"fmt"
	"math"
	"slices"

	"boardhand/internal/assess/line"
)

// costs are what a change takes from other lines: all that become warnings or fail by
// more, and those that lose most of what they have, most first.
func costs(mended int, was, now []line.Check) (out []line.Cost) {
	var thinner []line.Cost
	for j, w := range was {
		n := now[j]
		if j == mended || line.Waits(w) || line.Waits(n) || n.Verdict == line.Fail && w.Verdict != line.Fail {
			continue // one that fails only now is what the change breaks
		}
		c := line.Cost{ID: n.ID, Was: w.Value, Value: n.Value, Margin: n.Margin, Unit: n.Unit, Warns: n.Verdict == line.Warn && w.Verdict == line.Pass}
		switch lost := w.Margin - n.Margin; {
		case c.Warns, n.Verdict == line.Fail && lost > noted*math.Abs(w.Margin):
			out = append(out, c)
		case n.Verdict != line.Fail && n.Applies() && w.Applies() && w.Margin > 0 && lost > thin*w.Margin:
			thinner = append(thinner, c)
		}
	}
	slices.SortStableFunc(thinner, func(a, b line.Cost) int {
		return int(math.Copysign(1, a.Margin/math.Abs(a.Value)-b.Margin/math.Abs(b.Value)))
	})
	return append(out, thinner[:min(len(thinner), mostThinner)]...)
}

// effect tells how the check's value, its limit or both change.
func effect(was, now line.Check) string {
	limit := math.Abs(was.Limit-now.Limit) > noted*math.Abs(now.Limit)
	value := math.Abs(was.Value-now.Value) > noted*math.Abs(now.Value)
	switch {
	case limit && !value:
		return fmt.Sprintf("limit %s → %s %s", line.Figure(was.Limit), line.Figure(now.Limit), now.Unit)
	case limit:
		return fmt.Sprintf("%s → %s %s, limit %s", line.Figure(was.Value), line.Figure(now.Value), now.Unit, line.Figure(now.Limit))
	}
	return fmt.Sprintf("%s → %s %s", line.Figure(was.Value), line.Figure(now.Value), now.Unit)
}
