// SPDX-License-Identifier: Apache-2.0

package sheets

import (
	"fmt"
	"slices"
	"strings"
)

// maker of one sheet.
type maker struct {
	name string
	make func(o *Order) (Sheet, error)
}

// makers are those of all sheets, in their order.
var makers = []maker{
	{"board", board},
	{"underside", underside},
	{"plan", plan},
	{"front", front},
	{"side", side},
	{"drives", drives},
	{"levels", levels},
	{"lift", lift},
	{"plate", plate},
	{"panels", panels},
	{"courses", courses},
	{"bases", bases},
	{"gluing", gluing},
	{"wiring", wiring},
	{"materials", materialSheet},
	{"cautions", cautionSheet},
	{"checklist", checklist},
	{"target", target},
}

// Names lists the sheets' names.
func Names() (out []string) {
	for _, m := range makers {
		out = append(out, m.name)
	}
	return out
}

// Draw makes the sheets of an order.
func Draw(o Order) ([]Sheet, error) {
	for _, name := range o.Only {
		if !slices.Contains(Names(), name) {
			return nil, fmt.Errorf("there is no sheet %q: the sheets are %s", name, strings.Join(Names(), ", "))
		}
	}
	var wanted []maker
	for _, m := range makers {
		if o.Only == nil || slices.Contains(o.Only, m.name) {
			wanted = append(wanted, m)
		}
	}
	var out []Sheet
	for _, m := range wanted {
		s, err := m.make(&o)
		if err != nil {
			return nil, fmt.Errorf("sheet %s: %w", m.name, err)
		}
		if len(s.Pages) == 0 { // walls of the other kind
			if o.Only != nil {
				return nil, fmt.Errorf("sheet %s: there is nothing to draw for this rig; leave it out of --only", m.name)
			}
			continue
		}
		s.Name = m.name
		out = append(out, s)
	}
	for i := range out {
		for k, p := range out[i].Pages {
			o.frame(p, title{sheet: &out[i], number: i + 1, of: len(out), page: k + 1, pages: len(out[i].Pages)})
		}
	}
	return out, nil
}
