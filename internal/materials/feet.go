// SPDX-License-Identifier: Apache-2.0

package materials

import (
	"fmt"
	"maps"
	"math"
	"slices"

	"boardhand/internal/nest"
	"boardhand/internal/unit"
)

func (b *builder) feet() {
	f := &b.list.Feet
	f.Card, f.Cover = b.card(), b.r.Pieces.Magnet.Recess
	m := b.r.Pieces.Magnet
	layers := max(1, int(math.Ceil(float64((m.Thickness-stickOut)/f.Card))))
	for _, side := range sides2 {
		for _, g := range b.groups(side) {
			r := Ring{Group: g, Outer: g.Base, Layers: layers, Spare: spareRings}
			if b.r.Pieces.Carries(side) {
				r.Pocket = m.Diameter + pocketPlay
			}
			if r.Outer < r.Pocket+2*ringWall {
				b.note("the %s's base of %s leaves no wall of %s around a pocket of %s: set its magnet into the piece itself", g.Kind, g.Base, unit.Length(ringWall), r.Pocket)
				continue
			}
			f.Rings = append(f.Rings, r)
		}
	}
	if len(f.Rings) == 0 {
		return
	}
	if s, ok := b.discs(f.Card, f.Rings, func(r Ring) int { return r.Discs() }, "layers of bases"); ok {
		f.Layout = s
	}
	if f.Cover <= 0 {
		return
	}
	covers := func(r Ring) int {
		if r.Pocket == 0 {
			return 0
		}
		return r.Count + r.Spare
	}
	if s, ok := b.discs(f.Cover, f.Rings, covers, "covers over pockets, the recess"); ok {
		f.CoverLayout = s
	}
}

// card is the thickness of the stock's card that makes a magnet's depth in the fewest
// layers without more than half a layer too much; grey board of 1 mm otherwise.
func (b *builder) card() unit.Length {
	best := unit.Length(0)
	for _, p := range b.stock.Panels {
		over := math.Mod(float64(p.Thickness)-math.Mod(float64(b.r.Pieces.Magnet.Thickness), float64(p.Thickness)), float64(p.Thickness))
		if p.Use == "card" && !alike(p.Thickness, b.r.Pieces.Magnet.Recess) && over <= float64(p.Thickness)/2 && p.Thickness > best {
			best = p.Thickness
		}
	}
	if best == 0 {
		return cardDeep
	}
	return best
}

// discs nests count of each ring on card of a thickness, and adds the card.
func (b *builder) discs(thick unit.Length, rings []Ring, count func(Ring) int, what string) (nest.Layout, bool) {
	var parts []nest.Part
	n := 0
	for _, r := range rings {
		if c := count(r); c > 0 {
			parts = append(parts, nest.Part{Name: r.Side + " " + r.Kind, Width: r.Outer, Height: r.Outer, Count: c})
			n += c
		}
	}
	if n == 0 {
		return nest.Layout{}, false
	}
	s, ok := b.nested("card", thick, parts)
	if ok {
		l := b.sheetLine(InFeet, "card", s)
		l.Why = fmt.Sprintf("%d discs: %s, with a spare foot of each kind", n, what)
		b.add(l)
	}
	return s.layout, ok
}

// Laid is what a layout holds, laid anew on sheets of another size, such as pages, with the
// gaps of card; sheets are used up to their edges.
func Laid(l Layout, width, height unit.Length) (Layout, error) {
	parts := map[string]nest.Part{}
	for _, sheet := range l.Sheets {
		for _, at := range sheet {
			parts[at.Name] = nest.Part{Name: at.Name, Width: at.Width, Height: at.Height, Count: parts[at.Name].Count + 1}
		}
	}
	var all []nest.Part
	for _, name := range slices.Sorted(maps.Keys(parts)) {
		all = append(all, parts[name])
	}
	return nest.Pack(all, nest.Sheet{Width: width, Height: height, Kerf: cardKerf})
}
