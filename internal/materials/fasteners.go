// SPDX-License-Identifier: Apache-2.0

package materials

import (
	"fmt"
	"math"

	"boardhand/internal/axes"
	"boardhand/internal/unit"
)

// fasteners lists what joins the parts: few sizes, each with what it joins. Common
// practice, no source.
func (b *builder) fasteners() {
	b.mounts()
	b.housing()
	b.fixing()
	b.boom()
	ties := 0.0
	for _, l := range b.list.Wiring.Leads {
		ties += math.Ceil(float64(l.Fixed / tiePitch))
	}
	b.add(Line{List: InFasteners, Name: "cable tie", Need: int(ties), Spare: lost(int(ties)), Why: fmt.Sprintf("every %s along the fixed ways of the leads", unit.Length(tiePitch))})
	b.glue()
}

// lost is how many of n screws get lost.
func lost(n int) int { return int(math.Ceil(spareScrews * float64(n))) }

// fastener adds n of one, and spare ones.
func (b *builder) fastener(name string, n int, why string) {
	b.add(Line{List: InFasteners, Name: name, Need: n, Spare: lost(n), Why: why})
}

// mounts are what holds motors, controller and switches.
func (b *builder) mounts() {
	for _, name := range []string{"x", "y"} {
		n := screwsDC
		if axes.Named(b.r, name).Motor.Kind == "stepper" {
			n = screwsStepper
		}
		b.fastener("machine screw M3 × 8", n, name+" motor to its mount")
	}
	b.fastener("machine screw M3 × 8", screwsDC, "lift motor to the carriage")
	b.fastener("machine screw M3 × 12", 4, "controller to the floor, on spacers")
	b.fastener("spacer M3 × 10", 4, "under the controller")
	b.fastener("machine screw M2 × 10", 2*b.list.Wiring.Ports.Switches, "two an end switch")
}

// housing is what holds walls, floor and racks.
func (b *builder) housing() {
	w := b.r.Walls
	if w.Material == "brick" || len(b.list.Walls.Parts) == 0 {
		return
	}
	corner := max(2, int(math.Ceil(float64(w.Height/cornerPitch))))
	b.fastener("wood screw 3 × 20", 4*corner, fmt.Sprintf("four corners, %d each", corner))
	in := w.Inside()
	b.fastener("wood screw 3 × 20", int(math.Ceil(float64(2*(in[0]+in[1])/edgePitch))), fmt.Sprintf("floor to the walls, every %s", unit.Length(edgePitch)))
	for _, d := range b.list.Drives {
		if d.Kind == "rack" {
			b.fastener("wood screw 2.5 × 10", rackScrews*d.Pieces, fmt.Sprintf("%s racks, %d a piece", d.Axis, rackScrews))
		}
	}
}

// boom is what holds the camera.
func (b *builder) boom() {
	c, w := b.r.Camera, b.r.Walls
	up := w.Height + b.r.Board.Thickness + c.Height + boomOver
	arm := boomArm * w.Back
	round := func(l unit.Length) float64 { return math.Ceil(l.MM()/10-1e-9) * 10 }
	if c.Height <= 0 || w.Back <= 0 {
		return
	}
	b.list.Boom = Boom{Upright: unit.MM(round(up)), Arm: unit.MM(round(arm))}
	b.add(Line{List: InFasteners, Name: fmt.Sprintf("boom upright, %.0f mm", round(up)), Need: 1, Why: fmt.Sprintf("walls %s, board %s, camera %s over it, and %s", w.Height, b.r.Board.Thickness, c.Height, unit.Length(boomOver))})
	b.add(Line{List: InFasteners, Name: fmt.Sprintf("boom arm, %.0f mm", round(arm)), Need: 1, Why: fmt.Sprintf("from the back wall over the field's middle, %s, and a tenth more", w.Back)})
	b.fastener("machine screw M4 × 20 with wing nut", 4, "boom to the back wall, arm and camera to the boom")
}

// glue is how much glue the joints take, in ml, and as much again for waste.
func (b *builder) glue() {
	m := b.list.Magnets
	film := func(d Disc, n int) float64 {
		return float64(n) * float64(glueFilm*(math.Pi/4*d.Diameter*d.Diameter+math.Pi*d.Diameter*d.Thickness))
	}
	b.millilitres("two-part epoxy, cold curing", film(m.Drive, 1)+film(m.Foot, m.Count), "magnets into bases and onto the lift; not hot glue")
	paper := 0.0
	for _, r := range b.list.Feet.Rings {
		paper += float64(r.Discs()) * math.Pi / 4 * float64(r.Outer*r.Outer) * glueFilm
	}
	b.millilitres("paper glue", paper, "layers of card upon each other and under the pieces")
	if b.r.Walls.Material != "brick" && len(b.list.Walls.Parts) > 0 {
		in, w := b.r.Walls.Inside(), b.list.Walls.Thick
		edges := float64(w) * float64(4*b.r.Walls.Height+2*(in[0]+in[1]))
		b.millilitres("wood glue", edges*glueFilm, "corners and floor of the walls")
	}
}

func (b *builder) millilitres(name string, cubic float64, why string) {
	b.add(Line{List: InFasteners, Name: name, Unit: "ml", Need: int(math.Ceil(glueWaste * cubic * mlPerCubic)), Why: fmt.Sprintf("%s: a film of %s, twice over", why, unit.Length(glueFilm))})
}
