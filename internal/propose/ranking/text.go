// SPDX-License-Identifier: Apache-2.0

package ranking

import (
	"fmt"
	"strings"

	"boardhand/internal/assess"
	"boardhand/internal/propose"
	"boardhand/internal/yield"
)

// Text is the ranking for a terminal: why the first is first, the first top rigs with what to
// buy, and what nothing beats.
func (r *Ranking) Text(currency string, top int) string {
	if len(r.Rigs) == 0 {
		return ""
	}
	var b strings.Builder
	fmt.Fprintf(&b, "\nWhat to buy, best first: by the share of builds that play a whole game (seed %d, in steps of %.1f %%),\n"+
		"then cost, then the longest carry. Builds of %d rigs were drawn, those best by margin or nowhere beaten.\n", r.Seed, 100*yieldStep, len(r.Rigs))
	for _, s := range r.Why {
		b.WriteString("\n" + s)
	}
	b.WriteString("\n")
	for i, p := range r.Rigs[:min(top, len(r.Rigs))] {
		fmt.Fprintf(&b, "\n%d. %s\n", i+1, p.figures(currency))
		b.WriteString(propose.Shopping(p.Parts, currency))
		for _, row := range [][2]string{{"set up with", strings.Join(propose.Varied(p.Free), ", ")}, {"then set finer", values(p.Refined)},
			{"little reserve", strings.Join(p.Warns, ", ")}} {
			if row[1] != "" {
				fmt.Fprintf(&b, "   %-14s %s\n", row[0], row[1])
			}
		}
	}
	if n := len(r.Rigs) - top; n > 0 {
		fmt.Fprintf(&b, "\n%d more with --top, all in --csv FILE.\n", n)
	}
	r.front(&b, currency)
	return b.String()
}

// figures are those of a rig on a line.
func (a Rig) figures(currency string) string {
	return fmt.Sprintf("%s of %d builds work (%s, %s), cost %s, longest carry %.1f s", yield.Share(a.Works), a.Builds,
		a.Limit, yield.Line{Reserve: a.Reserve}.Sigmas(), propose.Money(a.Cost, currency), a.Time)
}

// values are settings as they stand in a file.
func values(set []assess.Setting) string {
	var out []string
	for _, s := range set {
		out = append(out, s.Key+" = "+s.Value)
	}
	return strings.Join(out, ", ")
}

func (r *Ranking) front(b *strings.Builder, currency string) {
	fmt.Fprintf(b, "\nNowhere beaten in share, cost and time together, cheapest first (%d rigs):\n\n", len(r.Front))
	var lists [][]propose.Part
	for _, p := range r.Front {
		lists = append(lists, p.Parts)
	}
	differ := propose.Differing(lists)
	for i, p := range r.Front[:min(mostFront, len(r.Front))] {
		fmt.Fprintf(b, "  p%-3d %7s of builds   cost %10s   longest carry %5.1f s\n       %s\n", i+1, yield.Share(p.Works),
			propose.Money(p.Cost, currency), p.Time, propose.Traits(p.Parts, propose.Varied(p.Free), differ))
	}
	if n := len(r.Front) - mostFront; n > 0 {
		fmt.Fprintf(b, "  %d more with --json.\n", n)
	}
}

// Pick gives the settings of a rig by its name in the text: "3" of the list, or "p2" of the
// front.
func (r *Ranking) Pick(name string) ([]assess.Setting, error) {
	p, err := propose.Named(name, r.Rigs, r.Front)
	return p.Set, err
}
