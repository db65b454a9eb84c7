// SPDX-License-Identifier: Apache-2.0

package materials

import (
	"fmt"
	"maps"
	"math"
	"slices"

	"boardhand/internal/assess"
	"boardhand/internal/bond"
	"boardhand/internal/nest"
	"boardhand/internal/unit"
)

func (b *builder) walls() {
	w := b.r.Walls
	b.list.Walls.Material = w.Material
	switch in := w.Inside(); {
	case min(in[0], in[1], w.Height) <= 0:
		b.note("the rig file gives no whole [walls]: walls and floor are not counted")
	case w.Material == "brick":
		b.bricks()
	default:
		b.panels()
	}
	b.board()
}

// lengths are those that elements come in; nil where the stock names none.
func (b *builder) lengths() []bond.Length {
	price, all := map[int]float64{}, true
	for _, e := range b.stock.Elements {
		if e.Course == "plate" {
			continue
		}
		if e.Price == nil {
			all = false
			price[e.Units] = 0
			continue
		}
		price[e.Units] = *e.Price
	}
	var out []bond.Length
	for _, n := range slices.Sorted(maps.Keys(price)) {
		cost := commonCost(n)
		if all {
			cost = int(math.Round(price[n] * 1000))
		}
		out = append(out, bond.Length{Units: n, Cost: cost})
	}
	return out
}

// commonCost is what an element costs where nobody says, as in bond.Common; in
// proportion to its length for other lengths.
func commonCost(units int) int {
	for _, l := range bond.Common {
		if l.Units == units {
			return l.Cost
		}
	}
	return 3*units + 1
}

// bricks lays the walls of elements, and puts a floor under them.
func (b *builder) bricks() {
	w := b.r.Walls
	ring, err := w.Ring(b.lengths())
	if err != nil {
		b.note("%v; the common lengths 1, 2, 3, 4, 6 and 8 are taken", err)
		if ring, err = w.Ring(nil); err != nil {
			b.note("%v", err)
			return
		}
	}
	b.list.Walls.Ring = ring
	for i, l := range w.Inside() {
		b.list.Walls.OffGrid = max(b.list.Walls.OffGrid, ring.InsideLength(i)-l)
	}
	if b.list.Walls.OffGrid > sameSize {
		b.note("the walls are laid on the 8 mm grid: inside lengths come out up to %s longer than in the rig", b.list.Walls.OffGrid)
	}
	full, plates := ring.Counts()
	b.elements(full, "full", fmt.Sprintf("%s of %s", unit.Count(ring.Full, "course"), bond.FullHeight))
	b.elements(plates, "plate", fmt.Sprintf("%s of %s on top", unit.Count(ring.Plates, "flat course"), bond.PlateHeight))
	t := unit.Length(2*ring.Thick) * bond.Pitch
	b.cut(floorDeep, []nest.Part{{Name: "floor", Width: ring.InsideLength(0) + t, Height: ring.InsideLength(1) + t, Count: 1}})
}

// elements adds the elements of one kind, longest first.
func (b *builder) elements(counts map[int]int, course, why string) {
	ring := b.list.Walls.Ring
	for _, n := range slices.Backward(slices.Sorted(maps.Keys(counts))) {
		l := Line{List: InWalls, Name: fmt.Sprintf("element %d × %d, %s", ring.Thick, n, course), Need: counts[n], Spare: assess.Spare(counts[n]),
			Why: fmt.Sprintf("%s around %d × %d units of 8 mm, joints %s or more apart; a twentieth spare", why, ring.Inside[0], ring.Inside[1], unit.Count(ring.Overlap, "unit"))}
		named := false
		for i, e := range b.stock.Elements {
			if e.Units == n && (e.Course == course || e.Course == "" && course == "full") {
				named = true
				l.Price, l.Mass = e.Price, e.Mass
				l.Owned += b.take("element", i, e.Owned, l.Need+l.Spare-l.Owned)
			}
		}
		if !named && n == 4 && course == "full" {
			l.Owned = min(b.r.Walls.Owned, l.Need+l.Spare)
		}
		b.add(l)
	}
}

// panels cuts walls and floor: front and back run through the corners, left and right
// stand between them.
func (b *builder) panels() {
	w, in := b.r.Walls, b.r.Walls.Inside()
	thick := w.Thick
	if thick == 0 {
		thick = floorDeep
		b.note("walls.thick is not in the rig file: panels of %s are taken", thick)
	}
	parts := []nest.Part{
		{Name: "front and back wall", Width: in[0] + 2*thick, Height: w.Height, Count: 2},
		{Name: "left and right wall", Width: in[1], Height: w.Height, Count: 2},
	}
	if w.Owned >= 4 {
		parts = nil
	} else if w.Owned > 0 {
		b.note("walls.owned is %d of 4 panels: which ones is not said, so that all four are cut", w.Owned)
	}
	b.cut(thick, append(parts, nest.Part{Name: "floor", Width: in[0] + 2*thick, Height: in[1] + 2*thick, Count: 1}))
}

// cut nests parts on panels of a thickness and adds the panels.
func (b *builder) cut(thick unit.Length, parts []nest.Part) {
	s, ok := b.nested("wall", thick, parts)
	b.list.Walls.Parts, b.list.Walls.Thick, b.list.Walls.Panels = parts, thick, s.layout
	if !ok {
		return
	}
	l := b.sheetLine(InWalls, "panel", s)
	l.Why = fmt.Sprintf("%s, nested with saw cuts of %s: %.0f %% used", partsText(parts), unit.Length(sawKerf), 100*s.layout.Used())
	b.add(l)
}

// board adds the sheet that is played on.
func (b *builder) board() {
	x, y := b.r.Board.Sheet()
	if x == 0 || b.r.Board.Thickness == 0 {
		return
	}
	l := Line{List: InWalls, Need: 1, Name: fmt.Sprintf("board %s × %s × %s", 2*x, 2*y, b.r.Board.Thickness),
		Why: fmt.Sprintf("%d × %d squares of %s and a border of %s all around", b.r.Board.Files, b.r.Board.Ranks, b.r.Board.Square, b.r.Board.Border)}
	if rim := b.r.Board.Rim; rim > 0 {
		l.Why += fmt.Sprintf(", and a plain rim of %s", rim)
	}
	for i, s := range b.stock.Sheets {
		if alike(s.Thickness, b.r.Board.Thickness) && alike(s.Warp, b.r.Board.Warp) {
			l.Price, l.Mass, l.Owned = s.Price, s.Mass, b.take("sheet", i, s.Owned, 1)
			break
		}
	}
	b.add(l)
}
