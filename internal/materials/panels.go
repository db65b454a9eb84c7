// SPDX-License-Identifier: Apache-2.0

package materials

import (
	"fmt"
	"strings"

	"boardhand/internal/nest"
	"boardhand/internal/unit"
)

// sheets are parts nested on stock sheets of one size.
type sheets struct {
	layout nest.Layout
	thick  unit.Length
	at     int // in the stock's panels; -1: a common size
	owned  int // of them
	price  *float64
	mass   unit.Mass
}

// nested lays parts on the panels of the stock for a use and a thickness, or on a
// common size: where least is to be bought, and then on the least area.
func (b *builder) nested(use string, thick unit.Length, parts []nest.Part) (best sheets, ok bool) {
	var whyNot error
	kerf := unit.Length(sawKerf)
	if use == "card" {
		kerf = cardKerf
	}
	for _, c := range b.candidates(use, thick) {
		c.layout.Sheet.Kerf, c.layout.Sheet.Edge = kerf, sheetEdge
		layout, err := nest.Pack(parts, c.layout.Sheet)
		if err != nil {
			whyNot = err
			continue
		}
		if c.layout = layout; !ok || c.before(best) {
			best, ok = c, true
		}
	}
	if !ok {
		b.note("%v", whyNot)
	}
	return best, ok
}

// candidates are the sheets that parts may be cut from.
func (b *builder) candidates(use string, thick unit.Length) (out []sheets) {
	for i, p := range b.stock.Panels {
		if (p.Use == use || p.Use == "" && use == "wall") && alike(p.Thickness, thick) {
			out = append(out, sheets{layout: nest.Layout{Sheet: nest.Sheet{Width: p.Length, Height: p.Width}}, thick: thick, at: i, owned: b.free("panel", i, p.Owned), price: p.Price, mass: p.Mass})
		}
	}
	if len(out) > 0 {
		return out
	}
	sizes := panelSizes
	if use == "card" {
		sizes = cardSizes
	}
	for _, s := range sizes {
		out = append(out, sheets{layout: nest.Layout{Sheet: nest.Sheet{Width: s[0], Height: s[1]}}, thick: thick, at: -1})
	}
	b.note("no %s panel of %s is in the stock: a common size is taken", use, thick)
	return out
}

// before says whether less is to be bought, by price where both have one, or less
// area taken.
func (s sheets) before(o sheets) bool {
	buy, other := s.toBuy()*s.one(), o.toBuy()*o.one()
	if s.price != nil && o.price != nil {
		buy, other = s.toBuy()**s.price, o.toBuy()**o.price
	}
	if buy != other {
		return buy < other
	}
	return s.area() < o.area()-sameSize*sameSize
}

// toBuy is how many sheets are not owned.
func (s sheets) toBuy() float64 { return float64(max(0, len(s.layout.Sheets)-s.owned)) }

// one is the area of a sheet, and area that of all.
func (s sheets) one() float64  { return float64(s.layout.Sheet.Width * s.layout.Sheet.Height) }
func (s sheets) area() float64 { return float64(len(s.layout.Sheets)) * s.one() }

// sheetLine is the sheets as a line of a list, what is owned taken off.
func (b *builder) sheetLine(list, name string, s sheets) Line {
	n, owned := len(s.layout.Sheets), 0
	if s.at >= 0 {
		owned = b.take("panel", s.at, b.stock.Panels[s.at].Owned, n)
	}
	return Line{List: list, Need: n, Owned: owned, Price: s.price, Mass: s.mass,
		Name: fmt.Sprintf("%s %s × %s × %s", name, s.layout.Sheet.Width, s.layout.Sheet.Height, s.thick)}
}

// partsText lists parts with their sizes.
func partsText(parts []nest.Part) string {
	var out []string
	for _, p := range parts {
		out = append(out, fmt.Sprintf("%d %s %s × %s", p.Count, p.Name, p.Width, p.Height))
	}
	return strings.Join(out, ", ")
}
