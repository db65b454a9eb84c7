package assess

import (
	"fmt"
	"math"

	"boardhand/internal/drag"
	"boardhand/internal/unit"
)

// lane is half a square: what separates the edge line from a standing man.
func (s *study) lane() float64 { return mm(s.rig.Board.Square) / 2 }

// judgeRaised asks from how far the raised magnet drags a standing man.
func (s *study) judgeRaised() Check {
	c := Check{ID: "neighbours.raised", Title: "Raised magnet passing a standing man", Unit: "mm",
		Formula: "offset beyond which |lateral pull| < μs·max(0, m·g + axial pull), plus the errors of both places",
		Source:  besselSource + "; " + coulomb, Range: forceRange}
	if s.err != nil {
		return c.open("pull.hold")
	}
	m := s.lightest()
	st := s.stand(m)
	p, err := st.WorstNeighbour(s.spread, st.Static)
	if err != nil {
		return c.failed(err)
	}
	careful, err := st.WorstNeighbour(s.spread, st.Static/reserve)
	if err != nil {
		return c.failed(err)
	}
	errors := (placement + doubt) * 1e3
	value := mm(p.Safe) + errors
	c = c.atMost(value, s.lane(), math.Inf(1))
	if c.Verdict == Pass && mm(careful.Safe)+errors > s.lane() {
		c.Verdict = Warn
	}
	c.Why = fmt.Sprintf("a standing %s (%v) is dragged within %.1f mm of the magnet's axis, %.1f mm with the errors of both places; lanes along the edges pass at %.1f mm",
		m.name, m.Mass, mm(p.Safe), value, s.lane())
	if c.Verdict == Warn {
		c.Why += fmt.Sprintf("; friction a third lower would make it %.1f mm", mm(careful.Safe)+errors)
	}
	c.Explain = fmt.Sprintf("The magnet that carries one man passes others. A strong pair reaches far: outside a ring around the magnet its axial force turns into a push up that takes weight off the foot (here down to %.0f %% at %.1f mm), so friction falls just where the sideways force still acts. "+
		"The strong magnet is the one that fails here. Smaller foot magnets help most.", 100*p.Normal/(float64(m.Mass)*drag.Gravity), mm(p.LiftAt))
	return c
}

// judgeLowered asks whether the lowered magnet passes under all men.
func (s *study) judgeLowered() Check {
	c := Check{ID: "neighbours.lowered", Title: "Drop of the lowered magnet", Unit: "mm",
		Formula: "least drop at which |lateral pull| < μs·max(0, m·g + axial pull) at every offset",
		Source:  besselSource + "; " + coulomb, Range: forceRange}
	if s.err != nil {
		return c.open("pull.hold")
	}
	m := s.lightest()
	st := s.stand(m)
	least, err := st.WorstDrop(s.spread, st.Static)
	if err != nil {
		return c.failed(fmt.Errorf("no drop up to 60 mm is enough for the %s: use weaker magnets", m.name))
	}
	drop := mm(s.rig.Lift.Drop)
	careful, err := st.WorstDrop(s.spread, st.Static/reserve)
	comfort := mm(careful)
	if err != nil {
		comfort = math.Inf(1)
	}
	c = c.atLeast(drop, mm(least), comfort)
	c.Why = fmt.Sprintf("lowered by %.1f mm the magnet passes under a standing %s (%v); it must drop %.1f mm not to drag it", drop, m.name, m.Mass, mm(least))
	if c.Verdict == Warn {
		c.Why += fmt.Sprintf(", %.1f mm with friction a third lower", comfort)
	}
	c.Explain = fmt.Sprintf("Between carries the magnet travels lowered, straight under standing men. At a gap of %.1f mm the largest sideways pull must stay below friction at the foot, for strong magnets and the board bowed down. Force falls steeply with the gap, so a few millimetres decide.",
		mm(s.spread.Near)+drop)
	return c
}

// judgeFeet asks from how far two foot magnets push each other.
func (s *study) judgeFeet() Check {
	c := Check{ID: "neighbours.feet", Title: "Foot magnets pushing each other", Unit: "mm",
		Formula: "centre distance at which the repulsion of two upright magnets on one plane equals μs·m·g, plus placement error",
		Source:  "direct integration over the charged discs; far off 3μ0m²/(4πr⁴), Griffiths, Introduction to Electrodynamics; " + coulomb,
		Range:   "magnets not touching; a real pair within 15 %"}
	if s.err != nil {
		return c.open("pull.hold")
	}
	m := s.lightest()
	strong := s.pair.Upper.WithBr(s.pair.Upper.Br * unit.FluxDensity(math.Sqrt(s.spread.Strong)))
	apart, err := drag.Apart(strong, strong, m.Mass, s.rig.Board.Friction)
	if err != nil {
		return c.failed(err)
	}
	careful, err := drag.Apart(strong, strong, m.Mass, s.rig.Board.Friction/reserve)
	if err != nil {
		return c.failed(err)
	}
	c = c.atMost(mm(apart)+placement*1e3, s.lane(), math.Inf(1))
	if c.Verdict == Pass && mm(careful)+placement*1e3 > s.lane() {
		c.Verdict = Warn
	}
	c.Why = fmt.Sprintf("two men with magnets push each other along within %.1f mm of their axes; a carried one passes at %.1f mm", mm(apart), s.lane())
	c.Explain = fmt.Sprintf("All foot magnets stand the same way up, so feet repel. The push at distance r falls with r⁴; the lighter man (%s, %v) moves first. A %v × %v magnet stays quiet beyond %.1f mm.",
		m.name, m.Mass, s.rig.Pieces.Magnet.Diameter, s.rig.Pieces.Magnet.Thickness, mm(apart))
	return c
}

// judgeRelief asks how much weight is left on a foot beside the magnet.
func (s *study) judgeRelief() Check {
	c := Check{ID: "neighbours.lift", Title: "Weight left on a foot beside the magnet", Unit: "%",
		Formula: "(m·g + axial pull)/(m·g), least at or beyond half a square", Source: besselSource, Range: forceRange}
	if s.err != nil {
		return c.open("pull.hold")
	}
	m := s.lightest()
	st := s.stand(m)
	st.Gap = s.spread.Near
	least, at := math.Inf(1), 0.0
	for x := s.lane() * 1e-3; x < offsetsTo; x += 0.5e-3 {
		p, err := s.table.At(float64(st.Gap), x)
		if err != nil {
			return c.failed(err)
		}
		p.Axial *= s.spread.Strong
		if n := st.Normal(p) / (float64(m.Mass) * drag.Gravity); n < least {
			least, at = n, x
		}
	}
	c = c.atLeast(100*least, 0, 50) // what a lifted foot leads to is neighbours.raised
	c.Why = fmt.Sprintf("beside the raised magnet a %s keeps %.0f %% of its weight at %.1f mm", m.name, 100*least, at*1e3)
	c.Explain = "Near the ring around a magnet its field points the other way, and the axial force pushes the foot up instead of pulling it down. A foot that carries a tenth of its weight hops and turns at the slightest touch."
	return c
}
