// SPDX-License-Identifier: Apache-2.0

package physics

import (
	"math"

	"boardhand/internal/magnet"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// pulls holds the forces of this machine's magnets, tabulated: drive magnet on
// a base over gap and offset, and two bases side by side over their distance.
// A single base's strength scales both, since the forces go with the product
// of the remanences. They are read from the rig here once more, on purpose: the
// twin stands for the built machine, with remanences drawn from the grades, and
// must not agree with the planner's reading only because both share it.
type pulls struct {
	table  *magnet.Map
	least  float64 // smallest gap in the table, m
	most   float64 // largest gap in the table, m
	reach  float64 // offset beyond which the pull is not worth a look, m
	peak   float64 // offset of the largest lateral pull when raised, m
	repel  []float64
	spread float64 // distance beyond which bases do not feel each other, m
	touch  float64 // bases's magnets touching, m
}

func newPulls(r *rig.Rig, driveBr, baseBr unit.FluxDensity) (*pulls, error) {
	drive := magnet.Cylinder{Diameter: r.Lift.Diameter, Thickness: r.Lift.Thickness, Br: driveBr}
	base := magnet.Cylinder{Diameter: r.Pieces.Magnet.Diameter, Thickness: r.Pieces.Magnet.Thickness, Br: baseBr}
	gap, warp := float64(r.Gap()), float64(r.Board.Warp)
	p := &pulls{least: math.Max(gap-warp, leastGap), most: gap + warp + float64(r.Lift.Drop)}
	var err error
	if p.table, err = magnet.NewMap(drive, base, p.covered()); err != nil {
		return nil, err
	}
	p.survey(gap, trifle*r.Board.Friction*float64(r.Pieces.Lightest().Mass)*gravity)
	return p, p.sideBySide(base, trifle*r.Board.Friction*float64(r.Pieces.Lightest().Mass)*gravity)
}

// covered is the part of space the table needs.
func (p *pulls) covered() magnet.MapRange {
	return magnet.MapRange{
		GapFrom: unit.Length(p.least), GapTo: unit.Length(p.most), OffsetTo: pullReach,
		Gaps: gapsTabled, Offsets: offsetsTabled,
	}
}

// survey finds the peak of the lateral pull when raised, and the offset beyond
// which every pull stays below least newtons.
func (p *pulls) survey(gap, least float64) {
	best := 0.0
	for x := 0.0; x < pullReach; x += surveyStep {
		axial, lateral := p.at(gap, x)
		if lateral > best {
			best, p.peak = lateral, x
		}
		if math.Abs(lateral) > least || math.Abs(axial) > least {
			p.reach = x
		}
	}
}

// sideBySide tabulates the repulsion of two bases, as far as it is least newtons.
func (p *pulls) sideBySide(base magnet.Cylinder, least float64) error {
	p.touch = float64(base.Diameter) * (1 + 1e-5)
	for d := p.touch; d < repelReach; d += repelStep {
		f, err := magnet.SideBySide(base, base, unit.Length(d))
		if err != nil {
			return err
		}
		p.repel = append(p.repel, f)
		if f > least {
			p.spread = d
		}
	}
	return nil
}

// at is the pull of the drive magnet on a nominal base, newtons: down, and back to the axis.
func (p *pulls) at(gap, offset float64) (axial, lateral float64) {
	if offset >= pullReach {
		return 0, 0
	}
	gap = math.Max(p.least, math.Min(p.most, gap))
	f, err := p.table.At(gap, offset)
	if err != nil { // outside the table: too far to matter
		return 0, 0
	}
	return f.Axial, f.Lateral
}

// apart is the push between two nominal bases at distance d, newtons.
func (p *pulls) apart(d float64) float64 {
	x := math.Max(0, d-p.touch) / repelStep
	i := int(x)
	if i+1 >= len(p.repel) {
		return 0
	}
	return p.repel[i] + (x-float64(i))*(p.repel[i+1]-p.repel[i])
}
