// SPDX-License-Identifier: Apache-2.0

package materials

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"boardhand/internal/propose"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// mostServed is how many needs some leads can serve, by trying all ways.
func mostServed(needs, leads []unit.Length) int {
	if len(needs) == 0 {
		return 0
	}
	best := mostServed(needs[1:], leads)
	for i, l := range leads {
		if l >= needs[0] {
			best = max(best, 1+mostServed(needs[1:], slices.Delete(slices.Clone(leads), i, i+1)))
		}
	}
	return best
}

// The stock's owned leads serve as many as can be, none serves two, and none is shorter
// than it must be.
func TestOwnedLeadsServeAsManyAsCanBe(t *testing.T) {
	const seed = 11
	t.Logf("seed %d", seed)
	draw := rand.New(rand.NewPCG(seed, 3))
	for range 200 {
		b := &builder{r: rig.Default(), stock: &propose.Stock{}, left: map[string]int{}}
		var leads []Lead
		var needs, owned []unit.Length
		for range 1 + draw.IntN(5) {
			needs = append(needs, unit.MM(float64(100+draw.IntN(900))))
			leads = append(leads, Lead{Use: "motor", Need: needs[len(needs)-1]})
		}
		for range draw.IntN(5) {
			owned = append(owned, unit.MM(float64(100+draw.IntN(900))))
			b.stock.Leads = append(b.stock.Leads, propose.Lead{Length: owned[len(owned)-1], Owned: 1})
		}
		b.assign(leads)
		served := 0
		for _, l := range leads {
			if l.Takes < l.Need {
				t.Fatalf("%v is too short for %v", l.Takes, l.Need)
			}
			if l.Source == "stock" {
				served++
				at := slices.Index(owned, l.Takes)
				if at < 0 {
					t.Fatalf("%v is used twice of %v", l.Takes, b.stock.Leads)
				}
				owned = slices.Delete(owned, at, at+1)
			}
		}
		var all []unit.Length
		for _, s := range b.stock.Leads {
			all = append(all, s.Length)
		}
		if want := mostServed(needs, all); served != want {
			t.Fatalf("%d of %v served by %v, could be %d", served, needs, all, want)
		}
	}
}

// A machine on a gcode controller needs eight leads and a supply's own. Walked by hand:
// the x switch rides on y: 210 mm fixed, half of 200 mm and half a turn of 20 mm.
func TestLeadsOfThePocketSet(t *testing.T) {
	l := Of(pocketSet(t), nil)
	byName := map[string]Lead{}
	for _, x := range l.Wiring.Leads {
		byName[x.Name] = x
	}
	if len(byName) != 8 {
		t.Errorf("leads: %+v", byName)
	}
	if x := byName["x switch"]; math.Abs(x.Need.MM()-(210+100+math.Pi*20)) > 1e-9 || x.Takes != unit.MM(500) || x.Source != "buy" || !x.Assumed {
		t.Errorf("%+v", x)
	}
	if x := byName["x motor"]; len(x.Moves) != 1 || x.Source != "owned" || x.Assumed {
		t.Errorf("a belt's motor stands on the beam: %+v", x)
	}
	if p := l.Wiring.Ports; p.Motors != 3 || p.Switches != 3 || p.Has != 4 {
		t.Errorf("%+v", p)
	}
}

// A lead in the file is not asked for again, leads of other uses are not taken, and what
// no lead reaches is to be made.
func TestLeadsAreOfTheirUse(t *testing.T) {
	r := rig.Default()
	r.Cables = append(r.Cables, rig.Cable{Name: "eye", From: "wall", To: "camera", Route: 6})
	s := stockOf(t, "[[lead]]\nlength = \"8000 mm\"\nowned = 3\n")
	for _, x := range Of(r, s).Wiring.Leads {
		if x.To == "camera" && (x.Name != "eye" || x.Source != "make" || x.Takes != 6) {
			t.Errorf("%+v", x)
		}
	}
	s = stockOf(t, "[[lead]]\nuse = \"camera\"\nlength = \"8000 mm\"\nowned = 3\n")
	if x := line(t, Of(r, s), "camera lead"); x.Buy() != 0 {
		t.Errorf("%+v", x)
	}
	r.Camera.Source = "http://camera.local/"
	r.Cables = r.Cables[:3]
	for _, x := range Of(r, nil).Wiring.Leads {
		if x.To == "camera" {
			t.Errorf("a camera on the network has %+v", x)
		}
	}
}

// The supply: the checks' load, a tenth more, and the next common rating.
func TestSupplyByHand(t *testing.T) {
	r := rig.Default()
	r.Power.Current = 0
	s := Of(r, nil).Wiring.Supply
	if math.Abs(float64(s.Load)-2.4) > 1e-12 || math.Abs(float64(s.Least)-2.64) > 1e-12 || s.Size != 3 {
		t.Errorf("%+v", s)
	}
	r.Power.Logic = 30
	if s = Of(r, nil).Wiring.Supply; s.Size < s.Least {
		t.Errorf("beyond all ratings: %+v", s)
	}
}
