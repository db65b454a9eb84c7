// SPDX-License-Identifier: Apache-2.0

package yield

import (
	"fmt"
	"math"
	"strings"
)

// Verdict is the result in one sentence.
func (r Result) Verdict() string {
	s := fmt.Sprintf("%s of %d builds (seed %d) play a whole game", Share(r.Works), r.Builds, r.Seed)
	switch {
	case len(r.Fails) > 0:
		return s + fmt.Sprintf(": %s fails in every one", strings.Join(r.Fails, " and "))
	case r.First == "":
		return s
	}
	return s + fmt.Sprintf(", give or take %.2g %%; %s stops most of the others", 100*r.Error, r.First)
}

// Text is the result for a terminal.
func (r Result) Text() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s.\n", r.Verdict())
	if len(r.Matters) > 0 {
		fmt.Fprintf(&b, "What matters most to it: %s.\n", Named(r.Matters))
	}
	fmt.Fprintf(&b, "\n%-20s %8s %8s %9s %9s %9s %-6s %s\n", "line", "works", "reserve", "drawn", "rss", "worst", "unit", "what matters most")
	for _, l := range r.Lines {
		fmt.Fprintf(&b, "%-20s %8s %8s %9s %9s %9s %-6s %s\n", l.ID, Share(l.Works), l.Sigmas(), Figure(l.Margin), Figure(l.Root), Figure(l.Worst), l.Unit, Named(l.Matters))
	}
	b.WriteString("\n" + Legend + "\n")
	if len(r.Certain) > 0 {
		fmt.Fprintf(&b, "No tolerance bears on: %s.\n", strings.Join(r.Certain, ", "))
	}
	b.WriteString("\nThe budget ([tolerance] in the rig file):\n")
	for _, e := range r.Budget {
		fmt.Fprintf(&b, "  %-18s %-9s %-10s %s (%s)\n", e.Key, e.Within, e.Shape, e.Title, e.Source)
	}
	return b.String()
}

// Legend says what the columns are.
const Legend = `works: share of the builds that this line lets play, of those in which the magnet holds. reserve: standard
deviations, by the share where at least ten fail, else mean margin over its standard deviation. drawn: margin of the machine as in its file. rss: that less the root of the sum of squares of what
each tolerance takes at its end (two standard deviations of a normal one). worst: every tolerance at its worse end.`

// Named are the tolerances that matter most, in words.
func Named(all []Swing) string {
	var out []string
	for _, s := range all[:min(mostNamed, len(all))] {
		out = append(out, s.Title)
	}
	return strings.Join(out, ", ")
}

// Sigmas writes a line's reserve.
func (l Line) Sigmas() string {
	if math.Abs(l.Reserve) > reserveTold {
		return fmt.Sprintf("%s%d σ", map[bool]string{true: ">", false: "<−"}[l.Reserve > 0], reserveTold)
	}
	return fmt.Sprintf("%.1f σ", l.Reserve)
}

// Share writes a share of builds: 100 % only if all of them work, 0 % only if none does.
func Share(v float64) string {
	if v == 0 || v == 1 {
		return fmt.Sprintf("%.0f %%", 100*v)
	}
	for digits := 1; digits < 4; digits++ {
		s := fmt.Sprintf("%.*f", digits, 100*v)
		if s != fmt.Sprintf("%.*f", digits, 100.0) && s != fmt.Sprintf("%.*f", digits, 0.0) {
			return s + " %"
		}
	}
	return fmt.Sprintf("%.3g %%", 100*v)
}

// Figure writes a margin with three digits.
func Figure(v float64) string {
	if math.Abs(v) >= 1000 {
		return fmt.Sprintf("%.0f", v)
	}
	if math.Abs(v) < 0.0005 {
		return "0"
	}
	return strings.Replace(fmt.Sprintf("%.3g", v), "-", "−", 1)
}
