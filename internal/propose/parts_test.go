// SPDX-License-Identifier: Apache-2.0

package propose

import (
	"strings"
	"testing"

	"boardhand/internal/unit"
)

// Parts are read with their units, and each bad one gives one line that says what to do.
func TestParts(t *testing.T) {
	s, err := ParseStock("stock.toml", []byte(`
[[element]]
units = 4
price = 0.12
mass = "2.3 g"
owned = 300
[[element]]
units = 6
course = "plate"
[[panel]]
use = "card"
width = "210 mm"
length = "297 mm"
thickness = "1 mm"
[[rack]]
module = "1 mm"
teeth = 10
owned = 38
[[belt]]
pitch = "2 mm"
length = "5000 mm"
[[screw]]
lead = "8 mm"
length = "400 mm"
[[lead]]
length = "1000 mm"
owned = 2
[[item]]
name = "wood glue"
price = 4
`))
	if err != nil {
		t.Fatal(err)
	}
	p := s.Parts()
	if p.count() != 8 || p.Elements[0].Owned != 300 || p.Elements[0].Mass != unit.Grams(2.3) || p.Elements[1].Course != "plate" || p.Racks[0].Teeth != 10 || p.Leads[0].Length != unit.MM(1000) {
		t.Errorf("got %+v", p)
	}
	for _, c := range []struct{ text, want string }{
		{"[[element]]\nprice = 1\n", "stock.toml:1: [[element]] needs units"},
		{"[[element]]\nunits = 4\ncourse = \"half\"\n", `stock.toml:3: element.course must be one of "full", "plate"`},
		{"[[panel]]\nwidth = \"100 mm\"\n", "stock.toml:1: [[panel]] needs width, length and thickness"},
		{"[[rack]]\nteeth = 10\n", "stock.toml:1: [[rack]] needs module and teeth"},
		{"[[belt]]\nlength = \"1 m\"\n", "stock.toml:1: [[belt]] needs pitch and length"},
		{"[[screw]]\nlength = \"1 m\"\n", "stock.toml:1: [[screw]] needs lead and length"},
		{"[[lead]]\nowned = 1\n", "stock.toml:1: [[lead]] needs length"},
		{"[[lead]]\nlength = \"10 mm\"\n", "stock.toml:2: lead.length must be 50 mm to 50000 mm"},
		{"[[item]]\nname = \"glue\"\n", "stock.toml:1: [[item]] needs the name"},
	} {
		if _, err := ParseStock("stock.toml", []byte(c.text)); err == nil || !strings.HasPrefix(err.Error(), c.want) {
			t.Errorf("%q:\n got %v\nwant %s", c.text, err, c.want)
		}
	}
}
