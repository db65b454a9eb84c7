// SPDX-License-Identifier: Apache-2.0

package propose

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"boardhand/internal/assess"
)

// Text is the result for a terminal: what passes, near misses. What to buy is the ranking
// given, or where there is none the first top rigs by their margins and the Pareto set.
func (r *Result) Text(top int, ranking string) string {
	var b strings.Builder
	r.head(&b)
	if ranking == "" {
		ranking = r.byMargin(top)
	}
	b.WriteString(ranking)
	r.nearest(&b)
	for _, n := range r.Notes {
		fmt.Fprintf(&b, "\nNote: %s.\n", n)
	}
	return b.String()
}

// byMargin lists what to buy before builds were drawn of it.
func (r *Result) byMargin(top int) string {
	if len(r.Rigs) == 0 {
		return ""
	}
	var b strings.Builder
	fmt.Fprintf(&b, "\nWhat to buy, before builds are drawn of it: rigs without a warning, then by the margin of the\n"+
		"tightest line that these parts can change, in steps of %.0f %%, then by cost and by the longest carry.\n"+
		"One rig for each choice of magnets, sheet, ballast and feet.\n", 100*marginStep)
	for i, p := range r.Rigs[:min(top, len(r.Rigs))] {
		fmt.Fprintf(&b, "\n%d. margin %s (%s), cost %s, longest carry %.1f s\n", i+1, percent(p.Margin), p.Tightest, Money(p.Cost, r.Currency), p.Time)
		b.WriteString(Shopping(p.Parts, r.Currency))
		fmt.Fprintf(&b, "   %-14s %s\n", "set up with", strings.Join(Varied(p.Free), ", "))
		if len(p.Warns) > 0 {
			fmt.Fprintf(&b, "   %-14s %s\n", "little reserve", strings.Join(p.Warns, ", "))
		}
	}
	if n := len(r.Rigs) - top; n > 0 {
		fmt.Fprintf(&b, "\n%d more choices pass; --top shows them.\n", n)
	}
	r.front(&b)
	return b.String()
}

func (r *Result) head(b *strings.Builder) {
	fmt.Fprintf(b, "%s rigs judged: %s\n", thousands(r.Judged), r.verdict())
	if r.NotToHave > 0 {
		fmt.Fprintf(b, "%s more cannot be had: a part is needed in two places, too few are owned, and it has no price.\n", thousands(r.NotToHave))
	}
	if missing := r.Candidates - r.Judged - r.NotToHave; missing > 0 {
		fmt.Fprintf(b, "%s are not looked at: the search was stopped, or is one shard of several.\n", thousands(missing))
	}
	var parts []string
	for _, s := range r.Stops[:min(4, len(r.Stops))] {
		parts = append(parts, fmt.Sprintf("%s (%.0f %%)", s.ID, 100*float64(s.Count)/float64(max(1, r.Judged))))
	}
	if len(parts) > 0 {
		fmt.Fprintf(b, "What stops most: %s.\n`boardhand assess RIG --explain %s` tells the physics of a line.\n", strings.Join(parts, ", "), r.Stops[0].ID)
	}
}

func (r *Result) verdict() string {
	switch r.Passed {
	case 0:
		return "none passes every check."
	case 1:
		return "1 passes every check."
	}
	return thousands(r.Passed) + " pass every check."
}

func percent(share float64) string { return fmt.Sprintf("%.1f %%", 100*share) }

// Money writes an amount of a currency, any word.
func Money(v float64, currency string) string {
	return strings.TrimSpace(strconv.FormatFloat(v, 'f', 2, 64) + " " + currency)
}

// Shopping lists the parts of a rig, a line each; what stays as it is is left out.
func Shopping(parts []Part, currency string) string {
	var b strings.Builder
	for _, p := range parts {
		what := p.Name
		if p.Need > 1 && !p.Gratis {
			what = fmt.Sprintf("%d × %s", p.Need, p.Name)
		}
		if !isAsIs(p.Name) {
			b.WriteString(strings.TrimRight(fmt.Sprintf("   %-14s %-42s %s", p.Place, what, order(p, currency)), " ") + "\n")
		}
	}
	return b.String()
}

// isAsIs says whether a part or a setting stays as the rig has it.
func isAsIs(name string) bool { return strings.Contains(name, asInRig) }

// Varied are the settings of a rig that do not stay as they were.
func Varied(free []string) []string { return slices.DeleteFunc(slices.Clone(free), isAsIs) }

func order(p Part, currency string) string {
	switch {
	case p.Gratis:
		return ""
	case p.Buy == 0:
		return "have"
	case p.Buy == p.Need:
		return fmt.Sprintf("buy %d: %s", p.Buy, Money(p.Cost, currency))
	}
	return fmt.Sprintf("have %d, buy %d: %s", p.Need-p.Buy, p.Buy, Money(p.Cost, currency))
}

func (r *Result) front(b *strings.Builder) {
	if len(r.Pareto) == 0 {
		return
	}
	fmt.Fprintf(b, "\nNowhere beaten in margin, cost and time together, cheapest first (%d rigs):\n\n", len(r.Pareto))
	var lists [][]Part
	for _, p := range r.Pareto {
		lists = append(lists, p.Parts)
	}
	differ := Differing(lists)
	shown := r.Pareto[:min(mostFront, len(r.Pareto))]
	for i, p := range shown {
		fmt.Fprintf(b, "  p%-3d margin %7s   cost %10s   longest carry %5.1f s%s\n       %s\n", i+1, percent(p.Margin), Money(p.Cost, r.Currency), p.Time, reserve(p), Traits(p.Parts, Varied(p.Free), differ))
	}
	if n := len(r.Pareto) - len(shown); n > 0 {
		fmt.Fprintf(b, "  %d more with --json.\n", n)
	}
}

func reserve(p Proposal) string {
	if len(p.Warns) == 0 {
		return ""
	}
	return "   little reserve: " + strings.Join(p.Warns, ", ")
}

// Differing says at which places lists of parts are not all the same.
func Differing(lists [][]Part) map[string]bool {
	out := map[string]bool{}
	for _, parts := range lists {
		for i, part := range parts {
			out[part.Place] = out[part.Place] || part.Name != lists[0][i].Name
		}
	}
	return out
}

// Traits names a rig's parts at the places asked for, nil for all that do not stay as they
// were, then its settings.
func Traits(parts []Part, free []string, places map[string]bool) string {
	var out []string
	for _, p := range parts {
		if places[p.Place] || places == nil && !isAsIs(p.Name) {
			if !strings.Contains(p.Name, strings.TrimSuffix(p.Place, "s")) {
				p.Name = p.Place + " " + p.Name
			}
			out = append(out, p.Name)
		}
	}
	return strings.Join(append(out, free...), ", ")
}

func (r *Result) nearest(b *strings.Builder) {
	if len(r.Near) == 0 {
		return
	}
	b.WriteString("\nNear misses, and what would mend them:\n")
	for _, m := range r.Near {
		fmt.Fprintf(b, "\n   %s; cost %s\n", Traits(m.Parts, Varied(m.Free), nil), Money(m.Cost, r.Currency))
		for _, f := range m.Fails {
			fmt.Fprintf(b, "   fails %s by %s", f.ID, percent(-f.Share))
			if f.Why != "" {
				fmt.Fprintf(b, ": %s", f.Why)
			}
			if f.Change != "" {
				fmt.Fprintf(b, "\n   mend:  %s", f.Change)
			}
			b.WriteString("\n")
		}
	}
}

// thousands writes a count with a thin gap every three digits.
func thousands(n int) string {
	s := strconv.Itoa(n)
	for i := len(s) - 3; i > 0; i -= 3 {
		s = s[:i] + " " + s[i:]
	}
	return s
}

// Pick gives the settings of a rig by its name in the text: "3" of the list, or "p2" of the
// Pareto set.
func (r *Result) Pick(name string) ([]assess.Setting, error) {
	p, err := Named(name, r.Rigs, r.Pareto)
	return p.Set, err
}

// Named finds what has a name in the text: "3" of the list, or "p2" of the Pareto set.
func Named[T any](name string, rigs, front []T) (T, error) {
	var none T
	list, digits, what := rigs, name, "rig"
	if strings.HasPrefix(name, "p") {
		list, digits, what = front, name[1:], "rig of the Pareto set"
	}
	n, err := strconv.Atoi(digits)
	switch {
	case err != nil || n < 1:
		return none, fmt.Errorf("%q names no rig; give its number from the list, like 1, or p1 from the Pareto set", name)
	case len(list) == 0:
		return none, fmt.Errorf("there is no rig to write: none passes")
	case n > len(list):
		return none, fmt.Errorf("there is no %s %d; the last is %d", what, n, len(list))
	}
	return list[n-1], nil
}
