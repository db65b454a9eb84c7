// SPDX-License-Identifier: Apache-2.0

package propose

import (
	"fmt"
	"math"

	"boardhand/internal/assess"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// slot is a place in the rig that a part fills, or a number that costs nothing
// to change. The first three decide what the magnets do; those up to the lens make
// the shopping list. Options are put into a rig in this order: a box goes by the gears.
type slot int

const (
	driveMagnet slot = iota
	footMagnet
	sheet
	ballast
	feet
	gear
	motor
	supply
	lens
	speed
	acceleration
	drop
	square
	height
	slots
)

// bought is how many slots make the shopping list; coupled how many decide the
// forces; listed how many make one proposal different from another, which gears
// and motors alone do not.
const (
	bought  = int(lens) + 1
	listed  = int(feet) + 1
	coupled = int(sheet) + 1
)

var slotNames = [slots]string{"drive magnet", "foot magnets", "sheet", "ballast", "feet", "gears", "motors", "supply", "lens",
	"speed", "acceleration", "drop", "squares", "camera height"}

// option is one way to fill a slot.
type option struct {
	name string
	put  func(*rig.Rig) // writes fields that no other slot writes
	from int            // which part of its kind, to count one used in two places; -1: none
	offer
}

// offer is what a part costs and how many there are.
type offer struct {
	price *float64
	owned int
}

// cost is what n pieces cost; false when they cannot be had.
func (o offer) cost(n int) (float64, bool) {
	short := max(0, n-o.owned)
	if short == 0 {
		return 0, true
	}
	if o.price == nil {
		return 0, false
	}
	return float64(short) * *o.price, true
}

// asIs leaves a slot as the rig has it.
func asIs(r *rig.Rig, s slot) option {
	return option{name: asInRig + asIsNote(r, s), put: func(*rig.Rig) {}, from: -1, offer: offer{owned: math.MaxInt}}
}

// asInRig begins the name of what stays as it is.
const asInRig = "as in the rig"

func asIsNote(r *rig.Rig, s slot) string {
	switch s {
	case driveMagnet:
		return fmt.Sprintf(" (%s × %s, %s)", r.Lift.Diameter, r.Lift.Thickness, r.Lift.Grade)
	case footMagnet:
		return fmt.Sprintf(" (%s × %s, %s)", r.Pieces.Magnet.Diameter, r.Pieces.Magnet.Thickness, r.Pieces.Magnet.Grade)
	case sheet:
		return fmt.Sprintf(" (%s)", r.Board.Thickness)
	case supply:
		return fmt.Sprintf(" (%s, %s)", r.Power.Voltage, r.Power.Current)
	case lens:
		return fmt.Sprintf(" (%s)", r.Camera.HFOV)
	case speed:
		return fmt.Sprintf(" (%s and %s)", r.Axis.X.Speed, r.Axis.Y.Speed)
	case acceleration:
		return fmt.Sprintf(" (%s and %s)", r.Axis.X.Acceleration, r.Axis.Y.Acceleration)
	case drop:
		return fmt.Sprintf(" (%s)", r.Lift.Drop)
	case square:
		return fmt.Sprintf(" (%s)", r.Board.Square)
	case height:
		return fmt.Sprintf(" (%s)", r.Camera.Height)
	}
	return ""
}

// need is how many pieces of a slot's part one rig takes.
func need(r *rig.Rig, s slot) int {
	switch s {
	case footMagnet:
		return assess.BillOf(r).Feet
	case feet, ballast:
		return 2 * r.Pieces.Count // the rig's pieces of both sides stand on the same feet, and weigh the same
	case gear, motor:
		return 2
	}
	return 1
}

// options lists what the stock offers for each slot.
func (s *Stock) options(r *rig.Rig) [slots][]option {
	var out [slots][]option
	for i, m := range s.Magnets {
		if m.Use != "foot" {
			out[driveMagnet] = append(out[driveMagnet], option{m.title(), m.asDrive(), i, offer{m.Price, m.Owned}})
		}
		if m.Use != "lift" && m.fitsFoot() {
			out[footMagnet] = append(out[footMagnet], option{m.title(), m.asFoot(r), i, offer{m.Price, m.Owned}})
		}
	}
	for i, h := range s.Sheets {
		out[sheet] = append(out[sheet], option{h.title(), h.put(r), i, offer{h.Price, h.Owned}})
	}
	for i, f := range s.Feet {
		o := offer{f.Price, f.Owned}
		if f.Price == nil && f.Owned == 0 {
			o.owned = math.MaxInt // feet that cost nothing
		}
		out[feet] = append(out[feet], option{f.title(), f.put(r), i, o})
	}
	for i, g := range s.Gears {
		out[gear] = append(out[gear], option{g.title(), g.put(), i, offer{g.Price, g.Owned}})
	}
	for i, m := range s.Motors {
		out[motor] = append(out[motor], option{m.title(), m.put(), i, offer{m.Price, m.Owned}})
	}
	s.fittings(r, &out)
	s.free(r, &out)
	for k := range out {
		if len(out[k]) == 0 {
			out[k] = []option{asIs(r, slot(k))}
		}
	}
	return out
}

// fittings lists ballast, supplies and lenses.
func (s *Stock) fittings(r *rig.Rig, out *[slots][]option) {
	for i, b := range s.Ballasts {
		o := offer{b.Price, b.Owned}
		if b.Adds == 0 {
			o = gratis
		}
		out[ballast] = append(out[ballast], option{b.title(), b.put(), i, o})
	}
	for i, p := range s.Supplies {
		out[supply] = append(out[supply], option{p.title(), p.put(), i, offer{p.Price, p.Owned}})
	}
	for i, l := range s.Lenses {
		out[lens] = append(out[lens], option{l.title(), l.put(r), i, offer{l.Price, l.Owned}})
	}
}

// gratis is an offer that costs nothing and does not run out.
var gratis = offer{owned: math.MaxInt}

// free lists what costs nothing to change.
func (s *Stock) free(was *rig.Rig, out *[slots][]option) {
	for _, v := range s.Try.Speed {
		out[speed] = append(out[speed], option{v.String(), func(r *rig.Rig) { r.Axis.X.Speed, r.Axis.Y.Speed = v, v }, -1, gratis})
	}
	for _, a := range s.Try.Acceleration {
		out[acceleration] = append(out[acceleration], option{a.String(), accelerated(a), -1, gratis})
	}
	for _, d := range s.Try.Drop {
		out[drop] = append(out[drop], option{d.String(), func(r *rig.Rig) { r.Lift.Drop = d }, -1, gratis})
	}
	squares := s.Try.Square
	if s.Try.Box != "" && len(squares) == 0 {
		squares = []unit.Length{was.Board.Square}
	}
	for _, q := range squares {
		out[square] = append(out[square], option{q.String(), func(r *rig.Rig) {
			r.Board.SetSquare(q)
			if s.Try.Box != "" {
				enclosed(r)
			}
		}, -1, gratis})
	}
	for _, h := range s.Try.CameraHeight {
		out[height] = append(out[height], option{h.String(), func(r *rig.Rig) { r.Camera.Height = h }, -1, gratis})
	}
}

// accelerated gives both axes an acceleration; jerks keep their proportion to it.
func accelerated(to unit.Acceleration) func(*rig.Rig) {
	return func(r *rig.Rig) {
		for _, a := range []*rig.Axis{&r.Axis.X, &r.Axis.Y} {
			if a.Acceleration > 0 {
				a.Jerk = unit.Jerk(math.Round(float64(a.Jerk)*float64(to/a.Acceleration)*1e6) / 1e6)
			}
			a.Acceleration = to
		}
	}
}

func titled(name, otherwise string) string {
	if name != "" {
		return name
	}
	return otherwise
}

func (m Magnet) title() string {
	return titled(m.Name, fmt.Sprintf("disc %s × %s, %s", m.Diameter, m.Thickness, m.Grade))
}

func (m Magnet) asDrive() func(*rig.Rig) {
	return func(r *rig.Rig) { r.Lift.Diameter, r.Lift.Thickness, r.Lift.Grade = m.Diameter, m.Thickness, m.Grade }
}

// fitsFoot says whether a rig may have the disc in its feet.
func (m Magnet) fitsFoot() bool { return m.Diameter <= widestFoot && m.Thickness <= thickestFoot }

// asFoot puts the disc into the feet; a piece's mass counts its magnet, so it
// changes by the difference of the two, to a tenth of a gram.
func (m Magnet) asFoot(was *rig.Rig) func(*rig.Rig) {
	volume := func(d, t unit.Length) float64 { return math.Pi / 4 * float64(d*d*t) }
	old := was.Pieces.Magnet
	more := neodymium * (volume(m.Diameter, m.Thickness) - volume(old.Diameter, old.Thickness))
	tenths := math.Round(more * 1e4)
	return func(r *rig.Rig) {
		p := &r.Pieces
		p.Magnet.Diameter, p.Magnet.Thickness, p.Magnet.Grade = m.Diameter, m.Thickness, m.Grade
		for _, k := range r.Pieces.Kinds().All() {
			piece := r.Pieces.Of(k)
			if tenths != 0 {
				piece.Mass = min(max(tidy(piece.Mass+unit.Mass(tenths/1e4)), lightest), heaviest)
			}
		}
	}
}

// tidy is a quantity as it will be read back from the file.
func tidy(m unit.Mass) unit.Mass { return unit.Grams(math.Round(m.Grams()*1e3) / 1e3) }

func (h Sheet) title() string { return titled(h.Name, "sheet of "+h.Thickness.String()) }

// put lays the sheet; sliding friction keeps its share of the static one.
func (h Sheet) put(was *rig.Rig) func(*rig.Rig) {
	share := was.Board.Kinetic / was.Board.Friction
	return func(r *rig.Rig) {
		r.Board.Thickness, r.Board.Warp = h.Thickness, h.Warp
		if h.Friction > 0 {
			r.Board.Friction, r.Board.Kinetic = h.Friction, math.Round(h.Friction*share*1e4)/1e4
		}
	}
}

func (f Foot) title() string {
	switch {
	case f.Base > 0:
		return titled(f.Name, "feet of "+f.Base.String())
	case *f.Wider == 0:
		return titled(f.Name, "feet as they are")
	}
	return titled(f.Name, "card rings, "+f.Wider.String()+" wider")
}

func (f Foot) put(was *rig.Rig) func(*rig.Rig) {
	return func(r *rig.Rig) {
		old := *was
		for _, k := range r.Pieces.Kinds().All() {
			piece := r.Pieces.Of(k)
			if f.Base > 0 {
				piece.Base = f.Base
			} else if *f.Wider > 0 {
				piece.Base = unit.MM(math.Round((old.Pieces.Of(k).Base+*f.Wider).MM()*1e4) / 1e4)
			}
		}
	}
}

func (g Gear) title() string {
	switch g.Drive {
	case "rack":
		return titled(g.Name, fmt.Sprintf("rack and pinion, module %s, %d teeth", g.Module, g.Teeth))
	case "belt":
		return titled(g.Name, fmt.Sprintf("belt, pitch %s, %d teeth", g.Pitch, g.Teeth))
	}
	return titled(g.Name, "screw, lead "+g.Lead.String())
}

func (g Gear) put() func(*rig.Rig) {
	return func(r *rig.Rig) {
		for _, a := range []*rig.Axis{&r.Axis.X, &r.Axis.Y} {
			a.Drive = g.Drive
			switch g.Drive {
			case "rack":
				a.Module, a.Teeth = g.Module, g.Teeth
			case "belt":
				a.Pitch, a.Teeth = g.Pitch, g.Teeth
			case "screw":
				a.Lead = g.Lead
			}
			a.Efficiency = rackShare
			if g.Efficiency > 0 {
				a.Efficiency = g.Efficiency
			}
			if g.Backlash != nil {
				a.Backlash = *g.Backlash
			}
		}
	}
}

func (m Motor) title() string { return titled(m.Name, m.Kind+" motor, "+m.StallTorque.String()) }

func (m Motor) put() func(*rig.Rig) {
	gearing := m.Gearing
	if gearing == 0 {
		gearing = 1
	}
	return func(r *rig.Rig) {
		for _, a := range []*rig.Axis{&r.Axis.X, &r.Axis.Y} {
			a.Motor = rig.Motor{Kind: m.Kind, StallTorque: m.StallTorque, FreeSpeed: m.FreeSpeed, Counts: m.Counts, Gearing: gearing,
				Voltage: m.Voltage, Current: m.Current, Inductance: m.Inductance, FullSteps: m.FullSteps}
		}
	}
}
