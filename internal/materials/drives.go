// SPDX-License-Identifier: Apache-2.0

package materials

import (
	"fmt"
	"math"
	"slices"

	"boardhand/internal/axes"
	"boardhand/internal/propose"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

func (b *builder) drives() {
	b.drive(&b.list.Drives[0], "x", b.r.Carriage.Left+b.r.Carriage.Right)
	b.drive(&b.list.Drives[1], "y", b.r.Carriage.Front+b.r.Carriage.Back)
}

// drive counts one axis, that moves a body of that length along itself.
func (b *builder) drive(d *Drive, name string, body unit.Length) {
	a := axes.Named(b.r, name)
	*d = Drive{Axis: name, Kind: a.Drive, Rows: a.Rows}
	switch a.Drive {
	case "rack":
		b.racks(d, a)
	case "belt":
		b.belt(d, a, body)
	case "screw":
		b.screw(d, a)
	}
	b.motor(name, a)
	p := axes.PlacesOf(b.r).Axes[map[string]int{"x": 0, "y": 1}[name]]
	need := p.Ends[1] - p.Ends[0]
	d.Guide = guideStep * unit.Length(math.Ceil(float64(need/guideStep)-1e-9))
	b.add(Line{List: InDrives, Name: fmt.Sprintf("guide, %s", d.Guide), Need: 2,
		Why: fmt.Sprintf("%s axis: two, cut to %s: %s travel, a body of %s and %s for holders", name, need, a.Travel, body, need-p.LeastGuide)})
}

// gear is the stock's gear of an axis; -1 where it has none.
func (b *builder) gear(a rig.Axis) int {
	return slices.IndexFunc(b.stock.Gears, func(g propose.Gear) bool {
		if g.Drive != a.Drive {
			return false
		}
		switch a.Drive {
		case "rack":
			return alike(g.Module, a.Module) && g.Teeth == a.Teeth
		case "belt":
			return alike(g.Pitch, a.Pitch) && g.Teeth == a.Teeth
		}
		return alike(g.Lead, a.Lead)
	})
}

// geared adds what a row turns on, with the price and number of the stock's gear.
func (b *builder) geared(l Line, a rig.Axis) {
	l.List = InDrives
	if i := b.gear(a); i >= 0 {
		g := b.stock.Gears[i]
		l.Price, l.Mass, l.Owned = g.Price, g.Mass, b.take("gear", i, g.Owned, l.Need)
	}
	b.add(l)
}

func (b *builder) racks(d *Drive, a rig.Axis) {
	d.Teeth = axes.RackTeeth(a)
	pitch := unit.Length(math.Pi) * a.Module
	d.Need = unit.Length(d.Teeth) * pitch
	l := Line{List: InDrives}
	at := b.rackOf(a, d.Teeth)
	if at >= 0 {
		r := b.stock.Racks[at]
		d.Each, l.Price, l.Mass = r.Teeth, r.Price, r.Mass
	} else {
		d.Each = max(1, int(math.Floor(float64(longRack/pitch)+1e-9)))
		if b.r.Walls.Material == "brick" {
			d.Each = brickRack
		}
		b.note("no rack of module %s is in the stock: pieces of %d teeth (%.0f mm) are taken", a.Module, d.Each, (unit.Length(d.Each) * pitch).MM())
	}
	d.Piece = unit.Length(d.Each) * pitch
	each := (d.Teeth + d.Each - 1) / d.Each
	d.Pieces = each * d.Rows
	l.Need, l.Name = d.Pieces, fmt.Sprintf("rack, module %s, %d teeth", a.Module, d.Each)
	l.Why = fmt.Sprintf("%s axis: %d of %d teeth (%.1f mm) × %s: %d teeth for %s travel and two beyond the mesh at each end",
		d.Axis, each, d.Each, d.Piece.MM(), unit.Count(d.Rows, "row"), d.Teeth, a.Travel)
	if d.Piece <= smallRack {
		l.Spare = spareOf(l.Need)
	}
	if at >= 0 {
		l.Owned = b.take("rack", at, b.stock.Racks[at].Owned, l.Need+l.Spare)
	}
	b.add(l)
	b.geared(Line{Name: fmt.Sprintf("pinion, module %s, %d teeth", a.Module, a.Teeth), Need: d.Rows, Why: d.Axis + " axis: one a row"}, a)
}

// rackOf is the stock's rack for an axis of which most is owned, or of which the fewest
// are needed; -1 where there is none.
func (b *builder) rackOf(a rig.Axis, teeth int) int {
	best, buy, pieces := -1, 0, 0
	for i, r := range b.stock.Racks {
		if !alike(r.Module, a.Module) {
			continue
		}
		n := a.Rows * ((teeth + r.Teeth - 1) / r.Teeth)
		short := max(0, n-b.free("rack", i, r.Owned))
		if best < 0 || short*r.Teeth < buy || short*r.Teeth == buy && n < pieces {
			best, buy, pieces = i, short*r.Teeth, n
		}
	}
	return best
}

func (b *builder) belt(d *Drive, a rig.Axis, body unit.Length) {
	d.Loop = axes.BeltLoop(a, body)
	d.Need = d.Loop.Open
	l := b.byLength(belts, a.Pitch, d.Need, d.Rows)
	d.Piece, d.Pieces = l.length, l.pieces
	l.Why = fmt.Sprintf("%s axis: %s of %.0f mm open, clamped at the carriage (closed %.0f mm), around pulleys %.1f mm apart",
		d.Axis, unit.Count(d.Rows, "row"), d.Loop.Open.MM(), d.Loop.Closed.MM(), d.Loop.Apart.MM())
	b.add(l.Line)
	b.geared(Line{Name: fmt.Sprintf("pulley, pitch %s, %d teeth", a.Pitch, a.Teeth), Need: d.Rows, Why: d.Axis + " axis: one a row, on the motor or its shaft"}, a)
	b.add(Line{List: InDrives, Name: fmt.Sprintf("idler, pitch %s, %d teeth", a.Pitch, a.Teeth), Need: d.Rows, Why: d.Axis + " axis: one a row, across from the pulley"})
	b.add(Line{List: InDrives, Name: "belt clamp", Need: 2 * d.Rows, Why: d.Axis + " axis: one at each end of a belt"})
}

func (b *builder) screw(d *Drive, a rig.Axis) {
	d.Need = axes.ScrewLength(a)
	l := b.byLength(screws, a.Lead, d.Need, d.Rows)
	d.Piece, d.Pieces = l.length, l.pieces
	l.Why = fmt.Sprintf("%s axis: %s of %.0f mm at least: %s travel, nut and both ends", d.Axis, unit.Count(d.Rows, "row"), d.Need.MM(), a.Travel)
	b.add(l.Line)
	b.geared(Line{Name: fmt.Sprintf("nut, lead %s", a.Lead), Need: d.Rows, Why: d.Axis + " axis: one a row"}, a)
	b.add(Line{List: InDrives, Name: "screw bearing", Need: 2 * d.Rows, Why: d.Axis + " axis: one at each end of a screw"})
	b.add(Line{List: InDrives, Name: "shaft coupling", Need: d.Rows, Why: d.Axis + " axis: one a screw, to its motor"})
}

// motor adds an axis' motor, by the stock's name where it has the very same.
func (b *builder) motor(name string, a rig.Axis) {
	m := a.Motor
	l := Line{List: InDrives, Need: 1, Name: fmt.Sprintf("%s motor, %s, %s", m.Kind, m.StallTorque, m.Voltage), Why: name + " axis"}
	for i, s := range b.stock.Motors {
		if s.Kind == m.Kind && s.StallTorque == m.StallTorque && s.FreeSpeed == m.FreeSpeed && s.Counts == m.Counts && s.Voltage == m.Voltage {
			if s.Name != "" {
				l.Name = s.Name
			}
			l.Price, l.Mass, l.Owned = s.Price, s.Mass, b.take("motor", i, s.Owned, 1)
			break
		}
	}
	b.add(l)
}
