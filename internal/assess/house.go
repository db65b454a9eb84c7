// SPDX-License-Identifier: Apache-2.0

package assess

import (
	"fmt"
	"math"
	"strings"

	"boardhand/internal/axes"
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
func judgeWalls(r *rig.Rig) Check {
	c := Check{ID: "materials.walls", Title: "Walls", Unit: "pieces",
		Formula: "bricks: courses of 9.6 mm and flat ones of 3.2 mm in running bond, 5 % of each length spare; panels: four", Source: "modular bricks 8.0 × 9.6 mm: R. Cailliau's measured pages, a builders' FAQ of 1999; " + ownGeometry, Range: "straight walls, no openings"}
	b := BillOf(r)
	need := b.Walls + b.Spare
	c.Unit = b.WallUnit
	switch {
	case r.Walls.Owned == 0:
		c = c.Passed(fmt.Sprintf("to buy: %d %s", need, b.WallUnit))
	default:
		c = c.AtLeast(float64(r.Walls.Owned), float64(need), float64(need))
		c.Why = fmt.Sprintf("%d %s are owned, %d are needed with spare", r.Walls.Owned, b.WallUnit, need)
		c.Advice = fmt.Sprintf("buy %d more %s", max(need-r.Walls.Owned, 0), b.WallUnit)
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
func judgePower(r *rig.Rig) Check {
	c := Check{ID: "power.current", Title: "Supply", Unit: "A",
		Formula: "dc motors at stall, steppers (2·I²·R + mechanical power)/(0.85·V), the lift's motor, controller and camera",
		Source:  "VEX EDR curriculum, Speed, power, torque and DC motors; Joule's law; " + ownGeometry, Range: "motors on the rig's supply; steppers within 30 %"}
	p := r.Power
	if p.Current == 0 {
		return c.Passed("the rig names no supply")
	}
	need := float64(axes.SupplyLoad(r))
	c = c.AtLeast(float64(p.Current), need, easyCurrent*need)
	c.Why = fmt.Sprintf("the supply gives %.2f A; %s take %.2f A", float64(p.Current), drawn(r), need)
	if r.Lift.Current == 0 {
		c.Why += "; the lift's motor comes on top (lift.current)"
	}
	c.Explain = "A supply that folds back when a motor stalls resets the controller and loses the machine's place. So it must carry both axis motors, dc ones at stall, together with the lift's and the electronics. A stepper's driver draws power, not the current of its phases: give motor.resistance, or both phases' current is counted."
	return c
}

// drawn lists what takes current.
func drawn(r *rig.Rig) string {
	var parts []string
	for _, d := range axes.Draws(r) {
		parts = append(parts, fmt.Sprintf("%s %.2f", d.Name, float64(d.Current)))
	}
	return strings.Join(parts, ", ")
}

// judgeMotors keeps dc motors to their rated voltage.
func judgeMotors(r *rig.Rig) Check {
	c := Check{ID: "power.motors", Title: "Motors on the supply's voltage", Unit: "V",
		Formula: "voltage at the motor against its rated voltage: heat at stall goes with its square", Source: "Joule's law; limits common practice, no source", Range: "brushed dc motors; steppers are held to their current by their drivers"}
	worst := 0.0
	for _, name := range []string{"x", "y"} {
		m := axes.Named(r, name).Motor
		on, rated := float64(r.Power.Driven(m)), float64(m.Voltage)
		if m.Kind == "stepper" || rated <= 0 || on <= 0 || on/rated <= worst {
			continue
		}
		worst = on / rated
		c = c.AtMost(on, mostOver*rated, easyOver*rated)
		c.Why = fmt.Sprintf("the %s motor is rated for %.3g V and gets %.3g V", name, rated, on)
		if worst > easyOver {
			c.Why += fmt.Sprintf(": at stall it heats %.1f times as much as at its rated voltage", worst*worst)
		}
		c.Advice = fmt.Sprintf("use a supply of %.3g V", rated)
	}
	if worst == 0 {
		return c.Passed("no dc motor with a rated voltage, or no supply is named")
	}
	c.Explain = "On more than its rated voltage a motor is stronger, and all lines above look better for it. But its coils heat with the square of the voltage, worst when it stalls against an end or a jammed piece: twice the voltage is four times the heat. Brushes wear faster too. Drivers that hold the motors to less than the supply (power.motors) do as well as a smaller supply."
	return c
}

// elv is the limit of touchable extra-low voltage, volts DC: IEC 61140, dry.
const elv = 60.0

// judgeVoltage keeps to extra-low voltage.
func judgeVoltage(r *rig.Rig) Check {
	c := Check{ID: "power.voltage", Title: "Extra-low voltage", Unit: "V",
		Formula: "supply voltage against 60 V DC", Source: "IEC 61140 as quoted by a transformer maker; IEC 62282-5-1:2012, 3.23", Range: "DC, dry rooms"}
	v := float64(r.Power.Voltage)
	if v == 0 {
		return c.Passed("the rig names no supply")
	}
	c = c.AtMost(v, elv, elv)
	c.Why = fmt.Sprintf("%.0f V DC may be touched", v)
	c.Explain = "Use a ready-made, safety-tested plug-in supply. Anything on the mains side is for licensed people; local codes decide."
	return c
}
