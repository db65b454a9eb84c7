// SPDX-License-Identifier: Apache-2.0

package axes

import (
	"math"
	"testing"

	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

func near(t *testing.T, what string, got unit.Length, want float64) {
	t.Helper()
	if math.Abs(got.MM()-want) > 1e-6 {
		t.Errorf("%s: %.4f mm, want %.4f", what, got.MM(), want)
	}
}

// What is assumed for the built-in rig, worked out by hand from its file: the carriage's ways
// end 168 − 0.2 + 24 = 191.8 mm from the middle, the walls stand at 200; the box is 96 high and
// the carriage's lowest part 96 − 0.5 − 20 − 60 = 15.5 over the floor.
func TestAssumedPlacesOfTheBuiltInRig(t *testing.T) {
	p := PlacesOf(rig.Default())
	x, y := p.Axes[0], p.Axes[1]
	near(t, "y guides", y.Rails[0], -193) // no slider of 12 mm fits into 8.2 beside: under the carriage, 1 mm off the wall
	near(t, "y guides' height", y.Height, 15.5/2)
	near(t, "y guides' length", y.Ends[1]-y.Ends[0], 400) // 336 + 48 + 40 is more than there is
	near(t, "x guides' length", x.Ends[1]-x.Ends[0], 398)
	near(t, "x guides' height", x.Height, 15.5+30)
	near(t, "y rack", y.RowEnds[1]-y.RowEnds[0], 111*math.Pi) // 336/π, and two at each end
	near(t, "y motor", p.Motors[1].Box.Min[0], -193+6+3+3+1)  // beside the rack's 6 mm, which lie a guide's thickness off the guide
	near(t, "y motor's height", p.Motors[1].Box.Middle()[2], 15.5/2)
	for _, c := range p.Clearances() {
		if !c.Assumed {
			t.Errorf("%s: the file gives no places", c.Part)
		}
		if c.Left < 0 {
			t.Errorf("%s lacks %v to the %s", c.Part, -c.Left, c.To)
		}
	}
}

// In a box with room the assumed places have it: the club table's, without what its file says.
func TestAssumedPlacesFitWhereThereIsRoom(t *testing.T) {
	r, err := rig.Load("../../examples/club/rig.toml", rig.Machine)
	if err != nil {
		t.Fatal(err)
	}
	said := PlacesOf(r)
	for _, a := range said.Axes {
		if len(a.Assumed) > 0 {
			t.Errorf("the example does not say %v of its %s axis", a.Assumed, a.Axis)
		}
	}
	r.Axis.X.Rails, r.Axis.Y.Rails, r.Lift.Motor = rig.Rails{}, rig.Rails{}, rig.Seat{}
	r.Axis.X.Motor.At, r.Axis.Y.Motor.At = [3]unit.Length{}, [3]unit.Length{}
	for i, p := range []*Places{said, PlacesOf(r)} {
		for _, c := range p.Clearances() {
			if c.Left < -1e-9 {
				t.Errorf("places %d: %s lacks %v to the %s", i, c.Part, -c.Left, c.To)
			}
		}
	}
	near(t, "y guides", PlacesOf(r).Axes[1].Rails[1], 276-8-1) // 20 mm beside the carriage take a slider of 16
}

// Two boxes are as far apart as they are along the axis along which they are most.
func TestBoxesApart(t *testing.T) {
	b := func(x, y, z float64) Box {
		return boxAt([3]unit.Length{unit.MM(x), unit.MM(y), unit.MM(z)}, [3]unit.Length{unit.MM(10), unit.MM(10), unit.MM(10)})
	}
	near(t, "side by side", apart(b(0, 0, 0), b(13, 0, 0)), 3)
	near(t, "above, and aside", apart(b(0, 0, 0), b(4, 0, -17)), 7)
	near(t, "into each other", apart(b(0, 0, 0), b(6, 8, 0)), -2)
}

// What the maker says of rack, belt and screw is what is bought.
func TestDriveLengthsThatAreGiven(t *testing.T) {
	r := rig.Default()
	a := r.Axis.X
	a.Rails.DriveLength = unit.MM(400)
	if n := RackTeeth(a); n != 128 { // 400/π = 127.3
		t.Errorf("a rack of 400 mm has %d teeth, want 128", n)
	}
	a.Drive = "screw"
	near(t, "screw", ScrewLength(a), 400)
	a.Drive, a.Pitch, a.Teeth = "belt", unit.MM(2), 20
	near(t, "belt", BeltLoop(a, unit.MM(48)).Closed, 2*400+20*2)
}
