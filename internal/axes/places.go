// SPDX-License-Identifier: Apache-2.0

package axes

import (
	"math"
	"slices"

	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// Box is the room of a thing, metres: to the right and back from the field's centre, while the
// magnet's axis stands under it, and over the floor.
type Box struct{ Min, Max [3]unit.Length }

// boxAt is the box of a body by its middle.
func boxAt(at, body [3]unit.Length) (b Box) {
	for i := range at {
		b.Min[i], b.Max[i] = at[i]-body[i]/2, at[i]+body[i]/2
	}
	return b
}

// Middle is the box's middle.
func (b Box) Middle() (m [3]unit.Length) {
	for i := range m {
		m[i] = (b.Min[i] + b.Max[i]) / 2
	}
	return m
}

// Motor is where one sits.
type Motor struct {
	Name    string // "x", "y", "lift"
	Box     Box
	Rides   [2]bool // along with the x and the y axis
	Assumed bool    // the rig does not say where it sits
	Sized   bool    // the rig says how large it is
}

// Place is where one axis' guides and what drives it lie, metres: across the axis from the
// field's centre, while the magnet's axis stands under it; heights over the floor.
type Place struct {
	Axis       string
	Rails      [2]unit.Length // the guides' middles
	Ends       [2]unit.Length // of the guides, along the axis
	Diameter   unit.Length
	Height     unit.Length
	Rows       []unit.Length  // racks, belts or screws
	RowEnds    [2]unit.Length // of racks and screws; of belts the axes of their pulleys
	Pulley     unit.Length    // radius of a belt's pulleys; else 0
	RowHeight  unit.Length
	Assumed    []string    // keys of axis.NAME.rails that the rig does not give
	LeastGuide unit.Length // that the travel takes
	LeastDrive unit.Length // as RowEnds; a belt's without room for its pulleys
}

// Places are where the parts of both axes and the motors lie: as the rig says, and where it
// says nothing, where they commonly do.
type Places struct {
	Axes     [2]Place
	Motors   [3]Motor // x, y, lift
	Carriage Box      // in the middle
	Sweep    Box      // all that the carriage takes on its ways
	Inside   Box      // of the walls, from the floor to the board
	Depth    unit.Length
}

// Lacks says whether the rig does not give a key of the axis' rails.
func (p Place) Lacks(key string) bool { return slices.Contains(p.Assumed, key) }

// PlacesOf finds the places of a rig's parts. Exact where the rig gives them; what is assumed is
// common practice, no source: the y axis' guides beside the carriage's way where there is room
// for sliders twice as thick as they are, else under it; the x axis' guides through the
// carriage; motors at the end of their belt or screw, or with a rack on what moves along it.
func PlacesOf(r *rig.Rig) *Places {
	p := &Places{Depth: r.Walls.Depth()}
	p.measure(r)
	rod, beside := p.rod()
	y := p.acrossY(r, rod, beside)
	x := p.acrossX(r, rod)
	p.Axes = [2]Place{x, y}
	p.motors(r)
	return p
}

// measure finds the room that the carriage takes, and that there is. Walls that are not given stand clear of it.
func (p *Places) measure(r *rig.Rig) {
	k, w := r.Carriage, r.Walls
	high := w.Height
	if high <= 0 {
		high = r.Lift.Air + r.Lift.Drop + k.Height + openFloor
	}
	top := high - r.Lift.Air - r.Lift.Drop
	p.Carriage = Box{[3]unit.Length{-k.Left, -k.Front, top - k.Height}, [3]unit.Length{k.Right, k.Back, top}}
	p.Sweep = p.Carriage
	s := Sides(r)
	for i := range 2 {
		p.Sweep.Min[i] -= s[2*i].Reach
		p.Sweep.Max[i] += s[2*i+1].Reach
	}
	p.Inside = Box{[3]unit.Length{-w.Left, -w.Front, 0}, [3]unit.Length{w.Right, w.Back, high}}
	for i := range 2 {
		if p.Inside.Min[i] == 0 {
			p.Inside.Min[i] = p.Sweep.Min[i] - openWall
		}
		if p.Inside.Max[i] == 0 {
			p.Inside.Max[i] = p.Sweep.Max[i] + openWall
		}
	}
}

// rod is the thickness of guides that fits, and whether they fit beside the carriage's way.
func (p *Places) rod() (unit.Length, bool) {
	free := min(p.Sweep.Min[0]-p.Inside.Min[0], p.Inside.Max[0]-p.Sweep.Max[0])
	for _, d := range rods {
		if free >= 2*d+2*railPlay {
			return d, true
		}
	}
	thin := rods[len(rods)-1]
	return thin, p.Sweep.Min[2] < 2*thin+2*railPlay // under it there is no room either
}

// acrossY places the y axis' guides and drives.
func (p *Places) acrossY(r *rig.Rig, rod unit.Length, beside bool) Place {
	out := Place{Axis: "y", Rails: [2]unit.Length{p.Inside.Min[0] + rod + railPlay, p.Inside.Max[0] - rod - railPlay}, Height: p.Sweep.Min[2] / 2}
	rows := [2]unit.Length{out.Rails[0] + rod + rowHalf, out.Rails[1] - rod - rowHalf}
	out.RowHeight = out.Height
	if beside {
		out.RowHeight = (p.Carriage.Min[2] + p.Carriage.Max[2]) / 2
		out.Height = max(rod, out.RowHeight-2*rod)
		rows = [2]unit.Length{p.Sweep.Min[0] - rowHalf - railPlay, p.Sweep.Max[0] + rowHalf + railPlay}
	}
	for i := range max(1, r.Axis.Y.Rows) {
		at := rows[0]
		if n := r.Axis.Y.Rows; n > 1 {
			at += (rows[1] - rows[0]) * unit.Length(i) / unit.Length(n-1)
		}
		out.Rows = append(out.Rows, at)
	}
	return p.said(r.Axis.Y, out, rod, r.Carriage.Front+r.Carriage.Back, 1)
}

// acrossX places the x axis' guides and drives: through the carriage's body.
func (p *Places) acrossX(r *rig.Rig, rod unit.Length) Place {
	middle := (p.Carriage.Min[2] + p.Carriage.Max[2]) / 2
	out := Place{Axis: "x", Rails: [2]unit.Length{-r.Carriage.Front / 2, r.Carriage.Back / 2}, Height: middle, RowHeight: middle}
	for i := range max(1, r.Axis.X.Rows) {
		at := r.Carriage.Back - rowHalf
		if i > 0 {
			at = -r.Carriage.Front + rowHalf + unit.Length(i-1)*2*rowHalf
		}
		out.Rows = append(out.Rows, at)
	}
	return p.said(r.Axis.X, out, rod, r.Carriage.Left+r.Carriage.Right, 0)
}

// said is a place with what the rig says of it, and the lengths along the axis. A guide that the
// rig gives no length has room for its holders as far as the walls leave any.
func (p *Places) said(a rig.Axis, out Place, rod, body unit.Length, along int) Place {
	out.LeastGuide = a.Travel + body
	length := max(out.LeastGuide, min(out.LeastGuide+GuideEnds, p.Inside.Max[along]-p.Inside.Min[along]))
	if along == 0 { // it moves between walls
		length = max(out.LeastGuide, min(length, p.Inside.Max[0]-p.Inside.Min[0]-2*railPlay))
	}
	out.Diameter = rod
	set := func(name string, is bool, take func()) {
		if is {
			take()
		} else {
			out.Assumed = append(out.Assumed, name)
		}
	}
	k := a.Rails
	set("at", k.At != [2]unit.Length{}, func() { out.Rails = k.At })
	set("length", k.Length > 0, func() { length = k.Length })
	set("diameter", k.Diameter > 0, func() { out.Diameter = k.Diameter })
	set("height", k.Height > 0, func() { out.Height = k.Height })
	set("drive_at", len(k.DriveAt) > 0, func() { out.Rows = slices.Clone(k.DriveAt) })
	set("drive_length", k.DriveLength > 0, func() {})
	set("drive_height", k.DriveHeight > 0, func() { out.RowHeight = k.DriveHeight })
	middle := a.Travel/2 - a.Origin
	low, high := p.Inside.Min[along], p.Inside.Max[along]
	if k.Length == 0 && length <= high-low { // what is assumed lies between the walls
		middle = min(max(middle, low+length/2), high-length/2)
	}
	out.Ends = [2]unit.Length{middle - length/2, middle + length/2}
	drive := driveLength(a, body)
	out.LeastDrive = leastDrive(a, body)
	out.RowEnds = [2]unit.Length{middle - drive/2, middle + drive/2}
	if a.Drive == "belt" {
		out.Pulley = unit.Length(a.Teeth) * a.Pitch / (2 * math.Pi)
	}
	return out
}

// driveLength is how long rack or screw of an axis is, or how far the pulleys of its belt are
// apart.
func driveLength(a rig.Axis, body unit.Length) unit.Length {
	switch a.Drive {
	case "rack":
		return unit.Length(RackTeeth(a)) * toothPitch(a)
	case "belt":
		return BeltLoop(a, body).Apart
	case "screw":
		return ScrewLength(a)
	}
	return a.Travel
}

// leastDrive is how long the travel needs a rack or screw, and how far a belt's pulleys apart.
func leastDrive(a rig.Axis, body unit.Length) unit.Length {
	a.Rails.DriveLength = 0
	l := driveLength(a, body)
	if a.Drive == "belt" {
		l -= 2 * pulleyRoom
	}
	return l
}

// motors places the three motors.
func (p *Places) motors(r *rig.Rig) {
	x, y, c := r.Axis.X, r.Axis.Y, p.Carriage
	face, long := motorBody(x.Motor)
	bx := [3]unit.Length{face, long, face}
	p.Motors[0] = seat("x", rig.Seat{At: x.Motor.At, Body: x.Motor.Body}, bx, [2]bool{x.Drive == "rack", true}, func(b [3]unit.Length) [3]unit.Length {
		if x.Drive == "rack" {
			return [3]unit.Length{c.Min[0] + b[0]/2 + railPlay, 0, c.Min[2] + b[2]/2 + railPlay}
		}
		return [3]unit.Length{(p.Sweep.Min[0] + p.Inside.Min[0]) / 2, 0, c.Max[2] - b[2]/2}
	})
	face, long = motorBody(y.Motor)
	by := [3]unit.Length{long, face, face}
	p.Motors[1] = seat("y", rig.Seat{At: y.Motor.At, Body: y.Motor.Body}, by, [2]bool{false, y.Drive == "rack"}, func(b [3]unit.Length) [3]unit.Length {
		rows := p.Axes[1].Rows
		z := max(p.Axes[1].RowHeight, b[2]/2+railPlay)
		if under := z + b[2]/2 + railPlay; y.Drive == "rack" && under <= c.Min[2] { // beside its rack, under the carriage
			if len(rows) > 1 {
				return [3]unit.Length{0, 0, z}
			}
			return [3]unit.Length{rows[0] + rowHalf + railPlay + b[0]/2, 0, z}
		}
		if y.Drive == "rack" {
			return [3]unit.Length{0, c.Max[1] + railPlay + b[1]/2, z}
		}
		at := unit.Length(0) // a shaft across drives all rows
		if len(rows) == 1 {
			at = max(rows[0], p.Inside.Min[0]+b[0]/2+railPlay)
		}
		return [3]unit.Length{at, (p.Sweep.Max[1] + p.Inside.Max[1]) / 2, z}
	})
	p.Motors[2] = seat("lift", r.Lift.Motor, liftBody, [2]bool{true, true}, func(b [3]unit.Length) [3]unit.Length {
		return [3]unit.Length{c.Max[0] - b[0]/2 - railPlay, 0, c.Min[2] + b[2]/2 + railPlay}
	})
}

// seat is a motor as the rig says, or of a common size at a place for its body.
func seat(name string, s rig.Seat, body [3]unit.Length, rides [2]bool, at func(body [3]unit.Length) [3]unit.Length) Motor {
	m := Motor{Name: name, Rides: rides, Assumed: s.At == [3]unit.Length{}, Sized: s.Body != [3]unit.Length{}}
	if m.Sized {
		body = s.Body
	}
	where := s.At
	if m.Assumed {
		where = at(body)
	}
	m.Box = boxAt(where, body)
	return m
}

// motorBody is how wide over its face and how long a motor commonly is.
func motorBody(m rig.Motor) (face, long unit.Length) {
	sizes := frames
	if m.Kind != "stepper" {
		sizes = geared
	}
	for _, s := range sizes {
		if m.StallTorque <= s.most {
			return s.face, s.long
		}
	}
	last := sizes[len(sizes)-1]
	return last.face, last.long
}

// size is how large motors of up to a torque are.
type size struct {
	most       unit.Torque
	face, long unit.Length
}
