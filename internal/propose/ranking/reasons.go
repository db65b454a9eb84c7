// SPDX-License-Identifier: Apache-2.0

package ranking

import (
	"fmt"
	"slices"
	"strings"

	"boardhand/internal/propose"
	"boardhand/internal/yield"
)

// reasons are the three sentences on the first rig.
func (r *Ranking) reasons(currency string) []string {
	if len(r.Rigs) == 0 {
		return []string{}
	}
	return []string{r.why(currency), r.givenUp(currency), r.limit()}
}

// why says what puts the first rig before the second.
func (r *Ranking) why(currency string) string {
	a := r.Rigs[0]
	if len(r.Rigs) == 1 {
		return fmt.Sprintf("Rig 1 comes first since no other was found: %s of its builds play a whole game.", yield.Share(a.Works))
	}
	b := r.Rigs[1]
	alike := func(is func(Rig) bool) int {
		n := 0
		for _, o := range r.Rigs {
			if is(o) {
				n++
			}
		}
		return n
	}
	switch {
	case a.share() > b.share():
		return fmt.Sprintf("Rig 1 comes first since %s of its builds play a whole game, more than of any other (rig 2: %s).", yield.Share(a.Works), yield.Share(b.Works))
	case a.price() < b.price():
		n := alike(func(o Rig) bool { return o.share() == a.share() })
		return fmt.Sprintf("Rig 1 comes first since it is the cheapest of the %d of which as many builds play a whole game (%s): %s, the next %s.",
			n, yield.Share(a.Works), propose.Money(a.Cost, currency), propose.Money(b.Cost, currency))
	case a.pace() < b.pace():
		n := alike(func(o Rig) bool { return o.share() == a.share() && o.price() == a.price() })
		return fmt.Sprintf("Rig 1 comes first since of the %d that are as sure (%s of the builds play a whole game) and as cheap (%s) it is the fastest: %.1f s, the next %.1f s.",
			n, yield.Share(a.Works), propose.Money(a.Cost, currency), a.Time, b.Time)
	}
	return fmt.Sprintf("Rig 1 is as sure, cheap and fast as rig 2 (%s of the builds play a whole game, %s, %.1f s); it comes first by %s.",
		yield.Share(a.Works), propose.Money(a.Cost, currency), a.Time, map[bool]string{true: "having fewer warnings", false: "the order of the stock"}[len(a.Warns) < len(b.Warns)])
}

// givenUp says what the cheapest and the fastest of the front would have.
func (r *Ranking) givenUp(currency string) string {
	a := r.Rigs[0]
	name := func(o Rig) string {
		return fmt.Sprintf("p%d", 1+slices.IndexFunc(r.Front, func(p Rig) bool { return p.Candidate == o.Candidate }))
	}
	var parts []string
	if o := r.Front[0]; o.price() < a.price() {
		parts = append(parts, fmt.Sprintf("%s, since %s costs %s but %s of its builds work", propose.Money(a.Cost-o.Cost, currency), name(o), propose.Money(o.Cost, currency), only(o, a)))
	}
	fastest := slices.MinFunc(r.Front, func(x, y Rig) int { return int(x.pace() - y.pace()) })
	if fastest.pace() < a.pace() {
		less := ""
		if fastest.share() < a.share() {
			less = fmt.Sprintf(" with %s of its builds", yield.Share(fastest.Works))
		}
		parts = append(parts, fmt.Sprintf("%.1f s of its longest carry, since %s takes %.1f s for %s%s", a.Time-fastest.Time, name(fastest), fastest.Time, propose.Money(fastest.Cost, currency), less))
	}
	if len(parts) == 0 {
		return "It gives up nothing: of the rigs of which builds were drawn none is cheaper, and none is faster."
	}
	return "It gives up " + strings.Join(parts, "; and ") + "."
}

// only is the share of the builds of o, which is less than that of a.
func only(o, a Rig) string {
	if o.share() < a.share() {
		return "only " + yield.Share(o.Works)
	}
	return yield.Share(o.Works)
}

// limit says which line has the least reserve and what it hangs on.
func (r *Ranking) limit() string {
	a := r.Rigs[0]
	if a.Limit == "" {
		return "Nothing that can be drawn limits it."
	}
	s := fmt.Sprintf("What limits it is %s, with %.1f standard deviations in reserve", a.Limit, a.Reserve)
	if a.Reserve > mostTold {
		s = fmt.Sprintf("What limits it is %s, with more than %d standard deviations in reserve", a.Limit, mostTold)
	}
	if len(a.Matters) > 0 {
		s += "; what matters most to that is " + listed(a.Matters)
	}
	return s + "."
}

// listed joins words as in a sentence.
func listed(all []string) string {
	if n := len(all); n > 1 {
		return strings.Join(all[:n-1], ", ") + " and " + all[n-1]
	}
	return all[0]
}
