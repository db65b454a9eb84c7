// SPDX-License-Identifier: Apache-2.0

package propose

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// Text is the result for a terminal: the first top rigs with what to buy, the
// Pareto set, near misses.
func (r *Result) Text(top int) string {
	var b strings.Builder
	r.head(&b)
	for i, p := range r.Rigs[:min(top, len(r.Rigs))] {
		fmt.Fprintf(&b, "\n%d. %s\n", i+1, r.summary(p))
		b.WriteString(r.shopping(p.Parts))
		fmt.Fprintf(&b, "   %-14s %s\n", "set up with", strings.Join(p.Free, ", "))
		if len(p.Warns) > 0 {
			fmt.Fprintf(&b, "   %-14s %s\n", "little reserve", strings.Join(p.Warns, ", "))
		}
	}
	if n := len(r.Rigs) - top; n > 0 {
		fmt.Fprintf(&b, "\n%d more choices pass; --top shows them.\n", n)
	}
	r.front(&b)
	r.nearest(&b)
	for _, n := range r.Notes {
		fmt.Fprintf(&b, "\nNote: %s.\n", n)
	}
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
	if len(r.Rigs) > 0 {
		fmt.Fprintf(b, "\nWhat to buy, best first: rigs without a warning, then by the margin of the tightest line\n"+
			"that these parts can change, in steps of %.0f %% (finer tells nothing; what only has to fit is\n"+
			"no margin), then by cost and by the longest carry. One rig for each choice of magnets, sheet and feet.\n", 100*marginStep)
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

// summary is a rig's figures on a line.
func (r *Result) summary(p Proposal) string {
	return fmt.Sprintf("margin %s (%s), cost %s, longest carry %.1f s", percent(p.Margin), p.Tightest, r.money(p.Cost), p.Time)
}

func percent(share float64) string { return fmt.Sprintf("%.1f %%", 100*share) }

func (r *Result) money(v float64) string {
	return strings.TrimSpace(strconv.FormatFloat(v, 'f', 2, 64) + " " + r.Currency)
}

// shopping lists parts, a line each.
func (r *Result) shopping(parts []Part) string {
	var b strings.Builder
	for _, p := range parts {
		what := p.Name
		if p.Need > 1 && !p.Gratis {
			what = fmt.Sprintf("%d × %s", p.Need, p.Name)
		}
		fmt.Fprintf(&b, "   %-14s %-42s %s\n", p.Place, what, r.order(p))
	}
	return strings.ReplaceAll(b.String(), " \n", "\n")
}

func (r *Result) order(p Part) string {
	switch {
	case p.Gratis:
		return ""
	case p.Buy == 0:
		return "have"
	case p.Buy == p.Need:
		return fmt.Sprintf("buy %d: %s", p.Buy, r.money(p.Cost))
	}
	return fmt.Sprintf("have %d, buy %d: %s", p.Need-p.Buy, p.Buy, r.money(p.Cost))
}

func (r *Result) front(b *strings.Builder) {
	if len(r.Pareto) == 0 {
		return
	}
	fmt.Fprintf(b, "\nNowhere beaten in margin, cost and time together, cheapest first (%d rigs):\n\n", len(r.Pareto))
	varied := r.varied()
	shown := r.Pareto[:min(mostFront, len(r.Pareto))]
	for i, p := range shown {
		fmt.Fprintf(b, "  p%-3d margin %7s   cost %10s   longest carry %5.1f s%s\n       %s\n", i+1, percent(p.Margin), r.money(p.Cost), p.Time, reserve(p), traits(p.Parts, p.Free, varied))
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

// varied says which places differ within the Pareto set.
func (r *Result) varied() map[string]bool {
	out := map[string]bool{}
	for _, p := range r.Pareto {
		for i, part := range p.Parts {
			out[part.Place] = out[part.Place] || part.Name != r.Pareto[0].Parts[i].Name
		}
	}
	return out
}

// traits names a rig's parts at the places asked for, then its settings.
func traits(parts []Part, free []string, places map[string]bool) string {
	var out []string
	for _, p := range parts {
		if places == nil || places[p.Place] {
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
		var parts []Part
		for _, p := range m.Parts {
			if !strings.HasPrefix(p.Name, "as in the rig") {
				parts = append(parts, p)
			}
		}
		free := slices.DeleteFunc(slices.Clone(m.Free), func(s string) bool { return strings.Contains(s, "as in the rig") })
		fmt.Fprintf(b, "\n   %s; cost %s\n", traits(parts, free, nil), r.money(m.Cost))
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

// Pick gives a rig by the name it has in the text: "3", or "p2" of the Pareto set.
func (r *Result) Pick(name string) (Proposal, error) {
	list, digits, what := r.Rigs, name, "rig"
	if strings.HasPrefix(name, "p") {
		list, digits, what = r.Pareto, name[1:], "rig of the Pareto set"
	}
	n, err := strconv.Atoi(digits)
	switch {
	case err != nil || n < 1:
		return Proposal{}, fmt.Errorf("%q names no rig; give its number from the list, like 1, or p1 from the Pareto set", name)
	case len(list) == 0:
		return Proposal{}, fmt.Errorf("there is no rig to write: none passes")
	case n > len(list):
		return Proposal{}, fmt.Errorf("there is no %s %d; the last is %d", what, n, len(list))
	}
	return list[n-1], nil
}
