// SPDX-License-Identifier: Apache-2.0

package assess

import (
	"os"
	"strings"
	"testing"

	"boardhand/internal/rig"
)

// A change is searched on until nothing fails by it, two are combined where no single one
// helps, what it costs is said, and the cheapest comes first where prices are known. Each
// was found by hand as well, by trying the neighbouring discs and steps in the file.
func TestChangesAreSearchedOn(t *testing.T) {
	club, err := os.ReadFile("../../examples/club/rig.toml")
	if err != nil {
		t.Fatal(err)
	}
	free := func(was, now *rig.Rig) (float64, bool) {
		if was.Pieces.Magnet != now.Pieces.Magnet {
			return 9, true
		}
		return 0, was.Lift.Diameter == now.Lift.Diameter
	}
	for name, c := range map[string]struct {
		text, line string
		set        []Setting
		price      Pricing
		want       []string // of the first change
	}{
		"base magnets too strong for their neighbours": {fixedText, "neighbours.feet",
			[]Setting{{Key: "pieces.magnet.diameter", Value: `"8 mm"`}, {Key: "pieces.magnet.thickness", Value: `"3 mm"`}},
			nil, []string{`pieces.magnet.diameter = "5 mm", pieces.magnet.thickness = "2 mm"`, "and lowers drag.slip"}},
		"the same, by price": {fixedText, "neighbours.feet",
			[]Setting{{Key: "pieces.magnet.diameter", Value: `"8 mm"`}, {Key: "pieces.magnet.thickness", Value: `"3 mm"`}},
			free, []string{"mass = ", "parts for 0.00"}},
		"more pull takes a longer lead, which the trays do not bear": {string(club), "pull.hold",
			[]Setting{{Key: "board.friction", Value: "1.5"}, {Key: "board.kinetic", Value: "1.3"}, {Key: "board.thickness", Value: `"6 mm"`}},
			nil, []string{"removal.gap = ", "and leaves reach.removal a margin"}},
		// Blur is the same at both ends where the lens is set to 2/(1/600 + 1/548) mm (Ray, as in knob).
		"a lens set far off, of a camera 600 mm above a king of 52 mm": {rig.DefaultText, "camera.focus",
			[]Setting{{Key: "camera.focal", Value: `"8 mm"`}, {Key: "camera.stop", Value: "1.4"}, {Key: "camera.focus", Value: `"8 m"`}},
			nil, []string{`camera.focus = "573 mm"`}},
		"magnets in the guest's pieces": {rig.DefaultText, "play.carried",
			[]Setting{{Key: "pieces.carried", Value: `"white"`}}, nil, []string{`pieces.carried = "black"`}},
	} {
		r, err := written(c.text, c.set)
		if err != nil {
			t.Fatal(err)
		}
		s := newStudy(r, nil)
		was := s.judge()
		for i, k := range was {
			if k.ID != c.line {
				continue
			}
			bench := s.bench(was, c.price)
			fixes := bench.Mend(i)
			if len(fixes) == 0 || len(fixes[0].Breaks) > 0 {
				t.Fatalf("%s: %v", name, fixes)
			}
			for _, want := range c.want {
				if !strings.Contains(fixes[0].String(), want) {
					t.Errorf("%s: %s; want %q in it", name, fixes[0], want)
				}
			}
		}
	}
}
