// SPDX-License-Identifier: Apache-2.0

package assess

import (
	"fmt"
	"math"

	"boardhand/internal/axes"
	"boardhand/internal/magnet"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// Bill counts what walls and magnets take.
type Bill struct {
	Walls      int    // bricks or panels
	WallUnit   string // "bricks" or "panels"
	Spare      int    // of them
	Feet       int    // foot magnets, with spare ones
	RackTeeth  [2]int // along x and y; 0 where no rack
	Courses    int    // of bricks, flat ones too
	OffGrid    unit.Length
	WallLength [2]unit.Length // inside, along x and along y
}

// BillOf counts a rig's materials.
func BillOf(r *rig.Rig) Bill {
	w := r.Walls
	b := Bill{WallUnit: "panels", Walls: 4, WallLength: w.Inside()}
	b.Feet = r.Pieces.Count
	if r.Pieces.Carried == "both" {
		b.Feet *= 2
	}
	b.Feet += 2
	for i, a := range []rig.Axis{r.Axis.X, r.Axis.Y} {
		b.RackTeeth[i] = axes.RackTeeth(a)
	}
	if w.Material == "brick" {
		b.bricks(w)
	}
	return b
}

// bricks counts the walls laid in bond of the common lengths.
func (b *Bill) bricks(w rig.Walls) {
	b.WallUnit = "bricks"
	ring, err := w.Ring(nil)
	if err != nil {
		return // a box of a few centimetres: reach fails it
	}
	full, plates := ring.Counts()
	b.Walls, b.Courses = 0, ring.Full+ring.Plates
	for _, of := range []map[int]int{full, plates} {
		for _, n := range of {
			b.Walls += n
			b.Spare += Spare(n)
		}
	}
	for i, l := range b.WallLength {
		b.OffGrid = max(b.OffGrid, ring.InsideLength(i)-l)
	}
}

// Spare is how many of n small parts come on top.
func Spare(n int) int { return int(math.Ceil(spareShare * float64(n))) }

// judgeWalls compares bricks or panels owned with those needed.
func (s *study) judgeWalls() Check {
	c := Check{ID: "materials.walls", Title: "Walls", Unit: "pieces",
		Formula: "bricks: courses of 9.6 mm and flat ones of 3.2 mm in running bond, 5 % of each length spare; panels: four", Source: "modular bricks 8.0 × 9.6 mm: R. Cailliau's measured pages, a builders' FAQ of 1999; " + ownGeometry, Range: "straight walls, no openings"}
	b := BillOf(s.Rig)
	need := b.Walls + b.Spare
	c.Unit = b.WallUnit
	switch {
	case s.Rig.Walls.Owned == 0:
		c = c.passed(fmt.Sprintf("to buy: %d %s", need, b.WallUnit))
	default:
		c = c.atLeast(float64(s.Rig.Walls.Owned), float64(need), float64(need))
		c.Why = fmt.Sprintf("%d %s are owned, %d are needed with spare", s.Rig.Walls.Owned, b.WallUnit, need)
		c.Advice = fmt.Sprintf("buy %d more %s", max(need-s.Rig.Walls.Owned, 0), b.WallUnit)
	}
	if b.OffGrid > unit.MM(offGrid) {
		c.Why += fmt.Sprintf("; inside lengths are up to %.1f mm off the 8 mm grid", mm(b.OffGrid))
	}
	c.Why += fmt.Sprintf("; foot magnets %d with two spare", b.Feet)
	c.Explain = "Walls are laid course by course on the 8 mm grid, corners overlapping and no joint over a joint, of bricks four units long and what closes a run; a twentieth of each length comes on top for what splits or rolls away. Panels are four, cut to the inside lengths."
	return c
}

// SupplyReserve is the share of the load that a supply should give.
const SupplyReserve = easyCurrent

// judgePower adds up the currents.
func (s *study) judgePower() Check {
	c := Check{ID: "power.current", Title: "Supply", Unit: "A",
		Formula: "both axis motors at stall + controller and camera; two motors never stall together with the lift", Source: "VEX EDR curriculum, Speed, power, torque and DC motors; " + ownGeometry, Range: "motors on the rig's supply"}
	p := s.Rig.Power
	if p.Current == 0 {
		return c.passed("the rig names no supply")
	}
	need := float64(axes.SupplyLoad(s.Rig))
	c = c.atLeast(float64(p.Current), need, easyCurrent*need)
	c.Why = fmt.Sprintf("the supply gives %.2f A; both motors stalled and the electronics take %.2f A", float64(p.Current), need)
	c.Explain = "A supply that folds back when a motor stalls resets the controller and loses the machine's place. So it must carry both axis motors at stall together with the electronics."
	return c
}

// elv is the limit of touchable extra-low voltage, volts DC: IEC 61140, dry.
const elv = 60.0

// judgeVoltage keeps to extra-low voltage.
func (s *study) judgeVoltage() Check {
	c := Check{ID: "power.voltage", Title: "Extra-low voltage", Unit: "V",
		Formula: "supply voltage against 60 V DC", Source: "IEC 61140 as quoted by a transformer maker; IEC 62282-5-1:2012, 3.23", Range: "DC, dry rooms"}
	v := float64(s.Rig.Power.Voltage)
	if v == 0 {
		return c.passed("the rig names no supply")
	}
	c = c.atMost(v, elv, elv)
	c.Why = fmt.Sprintf("%.0f V DC may be touched", v)
	c.Explain = "Use a ready-made, safety-tested plug-in supply. Anything on the mains side is for licensed people; local codes decide."
	return c
}

// judgeFlux compares the magnets' flux index with the toy limit.
func (s *study) judgeFlux() Check {
	c := Check{ID: "caution.flux", Title: "Flux index of the foot magnets", Unit: "kG²mm²",
		Formula: "(largest flux density over the face, kG)² × area of the face, mm²",
		Source:  "EN 71-1:2005+A8:2009, 4.23.2; 16 CFR 1262; method SOR/2011-17, Schedule 10", Range: "ideal magnet; a flat one measures less"}
	if s.err != nil {
		return c.open("pull.hold")
	}
	strong := s.Pair.Upper.WithBr(s.Pair.Upper.Br * unit.FluxDensity(math.Sqrt(s.Spread.Strong)))
	i, err := magnet.FluxIndex(strong)
	if err != nil {
		return c.failed(err)
	}
	c = c.atMost(i, magnet.FluxIndexLimit, magnet.FluxIndexLimit)
	c.Why = fmt.Sprintf("the index is %.0f, the limit for loose small magnets 50", i)
	if c.Verdict == Fail {
		c.Verdict = Warn // a caution, not a defect: the magnets are glued in
		c.Advice = "glue every magnet in and close it with a cap, count them after each session, keep them from children"
	}
	c.Explain = "Two or more swallowed magnets pinch the gut: injury or death. Nearly every magnet that moves a piece is above the toy limit, so it must not come loose, and the set is not a toy. Follow the rules where you live."
	return c
}

// fdaDistance is how far consumer devices should stay from implants, metres:
// US FDA study 2021, as reported: 15 cm (6 in).
const fdaDistance = 0.15

// judgeImplant computes how far the drive magnet's field reaches.
func (s *study) judgeImplant() Check {
	c := Check{ID: "caution.implant", Title: "Reach of 1 mT from the drive magnet", Unit: "mm",
		Formula: "distance from the face where the field on the axis falls to 1 mT", Source: "Derby and Olbert, Am. J. Phys. 78 (2010) 229; 1 mT and 15 cm: US FDA study 2021, as reported", Range: "one magnet alone; forces on it aside"}
	if s.err != nil {
		return c.open("pull.hold")
	}
	strong := s.Pair.Lower.WithBr(s.Pair.Lower.Br * unit.FluxDensity(math.Sqrt(s.Spread.Strong)))
	one, err := magnet.FieldReach(strong, magnet.ImplantSwitch)
	if err != nil {
		return c.failed(err)
	}
	half, err := magnet.FieldReach(strong, magnet.ImplantQuiet)
	if err != nil {
		return c.failed(err)
	}
	c = c.atMost(one.Axis*1e3, fdaDistance*1e3, fdaDistance*1e3)
	c.Why = fmt.Sprintf("the field falls to 1 mT at %.0f mm from the face and to 0.5 mT at %.0f mm", one.Axis*1e3, half.Axis*1e3)
	c.Explain = "Pacemakers and defibrillators may switch to magnet mode from about 1 mT. People with implants keep 15 cm away from loose magnets and from the open machine, and ask their doctor."
	return c
}
