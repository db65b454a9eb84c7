// SPDX-License-Identifier: Apache-2.0

package materials

import (
	"encoding/csv"
	"math"
	"strings"
	"testing"

	"boardhand/internal/propose"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// stockOf reads the text of a stock file.
func stockOf(t *testing.T, text string) *propose.Stock {
	t.Helper()
	s, err := propose.ParseStock("stock.toml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// rigOf is the built-in rig with lines of its file exchanged.
func rigOf(t *testing.T, exchange ...string) *rig.Rig {
	t.Helper()
	text := rig.DefaultText
	for i := 0; i < len(exchange); i += 2 {
		if !strings.Contains(text, exchange[i]) {
			t.Fatalf("the built-in rig has no %q", exchange[i])
		}
		text = strings.ReplaceAll(text, exchange[i], exchange[i+1])
	}
	r, err := rig.Parse("rig.toml", []byte(text), rig.Machine)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// pocketSet is a small travel set of bricks, belts and steppers: 25 mm squares.
func pocketSet(t *testing.T) *rig.Rig {
	return rigOf(t, `square = "40 mm"`, `square = "25 mm"`, `travel = "336 mm"`, `travel = "200 mm"`,
		`drive = "rack"`, `drive = "belt"`,
		`module = "1 mm"`, `pitch = "2 mm"`, `material = "panel"`, `material = "brick"`,
		`left = "200 mm"`, `left = "128 mm"`, `right = "200 mm"`, `right = "128 mm"`, `front = "200 mm"`, `front = "128 mm"`, `back = "200 mm"`, `back = "128 mm"`,
		`base = "17 mm"`, `base = "13 mm"`, `base = "16 mm"`, `base = "12 mm"`, `base = "15 mm"`, `base = "11 mm"`, `base = "14 mm"`, `base = "10 mm"`,
		`kind = "twin"`, "kind = \"gcode\"\nport = \"/dev/serial/by-id/usb-one\"", `height = "600 mm"`, `height = "400 mm"`)
}

// clubTable is a table with 50 mm squares, both sides carried, trays, and racks in two
// rows.
func clubTable(t *testing.T) *rig.Rig {
	return rigOf(t, `square = "40 mm"`, `square = "50 mm"`, `carried = "black"`, `carried = "both"`, `mode = "hand"`, `mode = "tray"`,
		`travel = "336 mm"`, "travel = \"500 mm\"\nrows = 2", `left = "200 mm"`, `left = "290 mm"`, `right = "200 mm"`, `right = "290 mm"`, `front = "200 mm"`, `front = "240 mm"`, `back = "200 mm"`, `back = "240 mm"`)
}

// line is the line whose name begins with a text; the test fails where there is none
// or more than one.
func line(t *testing.T, l List, begins string) Line {
	t.Helper()
	var out []Line
	for _, x := range l.Lines {
		if strings.HasPrefix(x.Name, begins) {
			out = append(out, x)
		}
	}
	if len(out) != 1 {
		t.Fatalf("%d lines begin with %q: %+v", len(out), begins, out)
	}
	return out[0]
}

// lineNamed is the line of that name.
func lineNamed(t *testing.T, l List, name string) Line {
	t.Helper()
	for _, x := range l.Lines {
		if x.Name == name {
			return x
		}
	}
	t.Fatalf("no line is named %q", name)
	return Line{}
}

// Every line of the three machines counts something, says why, and buys what is not
// owned.
func TestEveryLineHasAReason(t *testing.T) {
	for name, r := range map[string]*rig.Rig{"built-in": rig.Default(), "pocket": pocketSet(t), "club": clubTable(t)} {
		l := Of(r, nil)
		seen := map[string]bool{}
		for _, x := range l.Lines {
			if x.Need < 1 || x.Spare < 0 || x.Owned < 0 || x.Owned > x.Need+x.Spare || x.Why == "" || x.Unit == "" || seen[x.List+x.Name] {
				t.Errorf("%s: %+v", name, x)
			}
			if x.Buy()+x.Owned != x.Need+x.Spare {
				t.Errorf("%s: %s buys %d", name, x.Name, x.Buy())
			}
			seen[x.List+x.Name] = true
		}
		for _, list := range Names() {
			if len(l.In(list)) == 0 {
				t.Errorf("%s: nothing on the list %s", name, list)
			}
		}
	}
}

// What is owned is taken off once, even where two lines could have it; prices and
// masses are those of the stock, and an item that no list has is told.
func TestStockIsTakenOff(t *testing.T) {
	s := stockOf(t, `
currency = "EUR"
[[magnet]]
diameter = "6 mm"
thickness = "3 mm"
grade = "N42"
price = 0.5
mass = "0.6 g"
owned = 10
[[item]]
name = "controller"
price = 20
mass = "50 g"
[[item]]
name = "camera"
owned = 1
[[item]]
name = "magic"
price = 1
`)
	r := rig.Default()
	r.Lift.Diameter, r.Lift.Thickness = unit.MM(6), unit.MM(3)
	r.Pieces.Magnet.Diameter, r.Pieces.Magnet.Thickness = unit.MM(6), unit.MM(3)
	l := Of(r, s)
	drive, foot := line(t, l, "drive magnet"), line(t, l, "magnet in a base")
	if drive.Owned != 2 || foot.Owned != 8 || foot.Buy() != 10 {
		t.Errorf("10 owned discs go to %+v and %+v", drive, foot)
	}
	if c, ok := foot.Cost(); !ok || c != 5 {
		t.Errorf("ten discs cost %g", c)
	}
	if c := lineNamed(t, l, "camera"); c.Buy() != 0 {
		t.Errorf("%+v", c)
	}
	cost, unpriced, mass := l.Sum()
	if cost != 25 || math.Abs(mass.Grams()-(17*0.6+50)) > 1e-9 || unpriced == 0 {
		t.Errorf("cost %g, %d without price, %v", cost, unpriced, mass)
	}
	if !strings.Contains(strings.Join(l.Notes, "\n"), `item "magic" is on no list`) {
		t.Errorf("notes: %q", l.Notes)
	}
}

// The files are read by the standard library's reader of RFC 4180, with as many fields
// in every row, CR LF at each end, and the counts of the list.
func TestFilesAreCSV(t *testing.T) {
	l := Of(clubTable(t), stockOf(t, "currency = \"a \\\"coin\\\"\"\n[[item]]\nname = \"controller\"\nprice = 12.5\n"))
	rows := 0
	for _, f := range l.Files() {
		got, err := csv.NewReader(strings.NewReader(f.Text)).ReadAll() // all rows alike, or an error
		if err != nil || len(got) < 2 {
			t.Errorf("%s: %d rows, %v", f.Name, len(got), err)
		}
		if strings.Count(f.Text, "\n") != strings.Count(f.Text, "\r\n") || strings.Contains(f.Text, ";") && f.Name == "bases.csv" {
			t.Errorf("%s: line ends", f.Name)
		}
		if f.Name == "materials.csv" {
			rows = len(got) - 1
		}
	}
	if rows != len(l.Lines) {
		t.Errorf("materials.csv has %d lines of %d", rows, len(l.Lines))
	}
}
