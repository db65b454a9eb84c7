// SPDX-License-Identifier: Apache-2.0

package materials

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"boardhand/internal/assess"
	"boardhand/internal/axes"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

func (b *builder) wiring() {
	w := &b.list.Wiring
	w.Leads = b.leads()
	b.assign(w.Leads)
	for _, l := range w.Leads {
		b.addLead(l)
	}
	w.Ports = Ports{Motors: axes.PortsNeeded(b.r), Switches: b.switches("x") + b.switches("y") + b.switches("lift"), Has: b.r.Controller.Ports}
	b.supply()
	b.add(Line{List: InWiring, Name: "controller", Need: 1, Why: fmt.Sprintf("%s, %s for end switches", unit.Count(w.Ports.Motors, "motor socket"), unit.Count(w.Ports.Switches, "input"))})
	b.add(Line{List: InWiring, Name: "camera", Need: 1, Why: fmt.Sprintf("%d × %d pixels, %.0f° across, hung %s over the board", b.r.Camera.Image[0], b.r.Camera.Image[1], b.r.Camera.HFOV.Degrees(), b.r.Camera.Height)})
	b.add(Line{List: InWiring, Name: "lift motor", Need: 1, Why: fmt.Sprintf("raises the drive magnet by %s", b.r.Lift.Drop)})
	b.add(Line{List: InWiring, Name: "end switch", Need: w.Ports.Switches, Why: "as many as axes and lift have in the rig"})
	if b.r.Removal.Mode == "chute" {
		b.add(Line{List: InWiring, Name: "trapdoor motor", Need: 1, Why: "opens the chute"})
	}
}

func (b *builder) switches(axis string) int {
	n := b.r.Lift.Switches
	if axis != "lift" {
		n = axes.Named(b.r, axis).Switches
	}
	if n == nil {
		return 0
	}
	return *n
}

// wanted are the places that a lead must go to, each so many times.
func (b *builder) wanted() (out []string) {
	out = []string{"x", "y", "lift"}
	if b.r.Removal.Mode == "chute" {
		out = append(out, "chute")
	}
	for _, axis := range []string{"x", "y", "lift"} {
		for range b.switches(axis) {
			out = append(out, axis+" switch")
		}
	}
	if !strings.HasPrefix(b.r.Camera.Source, "http") {
		out = append(out, "camera")
	}
	return append(out, "supply")
}

// leads are those of the rig file, and then those that it does not name.
func (b *builder) leads() (out []Lead) {
	missing := b.wanted()
	for _, c := range b.r.Cables {
		out = append(out, b.lead(c, false))
		if i := slices.Index(missing, c.To); i >= 0 {
			missing = slices.Delete(missing, i, i+1)
		}
	}
	for _, to := range missing {
		c := rig.Cable{Name: to, From: "wall", To: to, Route: leadRoute, Slack: leadSlack}
		switch {
		case slices.Contains([]string{"x", "y", "lift", "chute"}, to):
			c.Name = to + " motor"
		case to == "camera":
			in := b.r.Walls.Inside()
			c.Route = b.r.Camera.Height + b.r.Walls.Height + max(in[0], in[1])/2
		}
		b.note("the lead to the %s is not in the rig file: a fixed way of %.0f mm and %.0f mm of slack are taken", c.Name, c.Route.MM(), c.Slack.MM())
		out = append(out, b.lead(c, true))
	}
	return out
}

func (b *builder) lead(c rig.Cable, assumed bool) Lead {
	n := axes.CableNeedOf(b.r, c)
	return Lead{Name: c.Name, Use: useOf(c.To), From: c.From, To: c.To, Moves: n.Moves, Fixed: c.Route + c.Slack, Need: n.Need, Assumed: assumed, Takes: n.Owned}
}

// useOf is what a lead to a place is a lead of: they are not exchanged.
func useOf(to string) string {
	switch {
	case to == "camera" || to == "supply":
		return to
	case strings.HasSuffix(to, "switch"):
		return "switch"
	}
	return "motor"
}

// assign gives each lead what serves it: the shortest of its own owned ones, else the
// shortest owned one of the stock that is left, the longest need first, which serves as
// many as can be; else the shortest to be bought.
func (b *builder) assign(leads []Lead) {
	order := make([]*Lead, len(leads))
	for i := range leads {
		order[i] = &leads[i]
	}
	slices.SortStableFunc(order, func(x, y *Lead) int { return int(math.Round(float64(y.Need-x.Need) * 1e6)) })
	for _, l := range order {
		if l.Takes > 0 {
			l.Source = "owned"
			continue
		}
		if l.Use == "supply" && l.Need <= supplyLead {
			l.Takes, l.Source = supplyLead, "own"
			continue
		}
		at := -1
		for i, s := range b.stock.Leads {
			if s.Serves(l.Use) && s.Length >= l.Need && b.free("lead", i, s.Owned) > 0 && (at < 0 || s.Length < b.stock.Leads[at].Length) {
				at = i
			}
		}
		if at >= 0 {
			b.take("lead", at, b.stock.Leads[at].Owned, 1)
			l.Takes, l.Source = b.stock.Leads[at].Length, "stock"
			continue
		}
		l.Takes, l.Source = b.nextLead(*l)
	}
}

// nextLead is the shortest lead that can be bought; beyond all, one to be made up, in
// whole steps of 100 mm.
func (b *builder) nextLead(l Lead) (unit.Length, string) {
	var sizes []unit.Length
	for _, s := range b.stock.Leads {
		if s.Serves(l.Use) && (s.Price != nil || s.Owned == 0) {
			sizes = append(sizes, s.Length)
		}
	}
	if sizes == nil {
		sizes = leadSizes
		b.note("no %s lead can be bought by the stock: common lengths are taken, %s to %s", l.Use, leadSizes[0], leadSizes[len(leadSizes)-1])
	}
	need := l.Need
	best := unit.Length(0)
	for _, s := range sizes {
		if s >= need && (best == 0 || s < best) {
			best = s
		}
	}
	if best > 0 {
		return best, "buy"
	}
	return unit.MM(100 * math.Ceil(need.MM()/100-1e-9)), "make"
}

// addLead adds a lead to have.
func (b *builder) addLead(l Lead) {
	if l.Source == "own" {
		return // it comes with the supply
	}
	line := Line{List: InWiring, Name: fmt.Sprintf("%s lead, %.0f mm", l.Use, l.Takes.MM()), Need: 1, Why: fmt.Sprintf("%s: %.0f mm at least, %s", l.Name, math.Ceil(l.Need.MM()), l.way())}
	if l.Source == "owned" || l.Source == "stock" {
		line.Owned = 1
	}
	for _, s := range b.stock.Leads {
		if s.Serves(l.Use) && alike(s.Length, l.Takes) && l.Source != "owned" {
			line.Price, line.Mass = s.Price, s.Mass
		}
	}
	b.add(line)
}

// way says what a lead follows.
func (l Lead) way() string {
	if len(l.Moves) == 0 {
		return "it lies still"
	}
	return "it follows " + strings.Join(l.Moves, " and ") + " over the whole travel"
}

// supply adds up what is drawn.
func (b *builder) supply() {
	p := b.r.Power
	s := Supply{Voltage: p.Voltage, Rated: p.Current, Draws: axes.Draws(b.r), Load: axes.SupplyLoad(b.r)}
	s.Least = s.Load * assess.SupplyReserve
	s.Size = s.Least
	for _, size := range slices.Backward(supplySizes) {
		if size >= s.Least {
			s.Size = size
		}
	}
	b.list.Wiring.Supply = s
	l := Line{List: InWiring, Name: fmt.Sprintf("supply, %s, %.3g A", s.Voltage, float64(s.Size)), Need: 1,
		Why: fmt.Sprintf("motors and electronics take %.2f A together, and a reserve of %.0f %%", float64(s.Load), 100*(assess.SupplyReserve-1))}
	if s.Rated >= s.Least {
		l.Name = fmt.Sprintf("supply, %s, %.3g A", s.Voltage, float64(s.Rated))
		l.Why = fmt.Sprintf("%s; the rig's gives %.3g A", l.Why, float64(s.Rated))
	}
	b.add(l)
}
