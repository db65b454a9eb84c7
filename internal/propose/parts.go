// SPDX-License-Identifier: Apache-2.0

package propose

import "boardhand/internal/unit"

// Parts are what a machine is built of beside what a search chooses among: they
// decide how walls, racks and leads are made up, and what the lists cost. A kind that
// the file does not name is taken in common sizes.
type Parts struct {
	Elements []Element
	Panels   []Panel
	Racks    []Rack
	Belts    []Length
	Screws   []Length
	Leads    []Lead
	Items    []Item
}

// Element is a modular element of walls: units of 8 mm long, a full one or a plate.
type Element struct {
	Name   string    `toml:"name"`
	Units  int       `toml:"units"`
	Course string    `toml:"course"` // "full" or "plate"; full when not given
	Price  *float64  `toml:"price"`
	Mass   unit.Mass `toml:"mass"`
	Owned  int       `toml:"owned"`
}

// Panel is a stock sheet that walls and floor, or the card under pieces, are cut from.
type Panel struct {
	Name      string      `toml:"name"`
	Use       string      `toml:"use"` // "wall" or "card"; wall when not given
	Width     unit.Length `toml:"width"`
	Length    unit.Length `toml:"length"`
	Thickness unit.Length `toml:"thickness"`
	Price     *float64    `toml:"price"`
	Mass      unit.Mass   `toml:"mass"`
	Owned     int         `toml:"owned"`
}

// Rack is one piece of rack, so many teeth long.
type Rack struct {
	Name   string      `toml:"name"`
	Module unit.Length `toml:"module"`
	Teeth  int         `toml:"teeth"`
	Price  *float64    `toml:"price"`
	Mass   unit.Mass   `toml:"mass"`
	Owned  int         `toml:"owned"`
}

// Lead is a ready-made lead.
type Lead struct {
	Name   string      `toml:"name"`
	Use    string      `toml:"use"` // "motor", "switch", "camera" or "supply"; motors and switches when not given
	Length unit.Length `toml:"length"`
	Price  *float64    `toml:"price"`
	Mass   unit.Mass   `toml:"mass"`
	Owned  int         `toml:"owned"`
}

// Serves says whether the lead may go to a motor, a switch, a camera or a supply.
func (l Lead) Serves(use string) bool {
	return l.Use == use || l.Use == "" && (use == "motor" || use == "switch")
}

// Length is a belt of a pitch or a screw of a lead.
type Length struct {
	Name   string      `toml:"name"`
	Pitch  unit.Length `toml:"pitch"` // belt
	Lead   unit.Length `toml:"lead"`  // screw
	Length unit.Length `toml:"length"`
	Price  *float64    `toml:"price"`
	Mass   unit.Mass   `toml:"mass"`
	Owned  int         `toml:"owned"`
}

// Item is any other part of a list of materials, by the name it has there.
type Item struct {
	Name  string    `toml:"name"`
	Price *float64  `toml:"price"`
	Mass  unit.Mass `toml:"mass"`
	Owned int       `toml:"owned"`
}

// Parts are the stock's parts beside what a search chooses among.
func (s *Stock) Parts() Parts {
	return Parts{s.Elements, s.Panels, s.Racks, s.Belts, s.Screws, s.Leads, s.Items}
}

// count is how many kinds of parts there are.
func (p Parts) count() int {
	return len(p.Elements) + len(p.Panels) + len(p.Racks) + len(p.Belts) + len(p.Screws) + len(p.Leads) + len(p.Items)
}

// partRanges are the ranges of the parts' own keys.
var partRanges = map[string][2]string{
	"element.units": {"1", "16"},
	"panel.width":   {"20 mm", "5000 mm"}, "panel.length": {"20 mm", "5000 mm"}, "panel.thickness": {"0.1 mm", "50 mm"},
	"rack.teeth":  {"2", "5000"},
	"belt.length": {"50 mm", "100000 mm"}, "screw.length": {"20 mm", "5000 mm"}, "lead.length": {"50 mm", "50000 mm"},
}

// checkParts says which part lacks something.
func (s *Stock) checkParts() error {
	for i, e := range s.Elements {
		if err := s.lacking("element", i, e.Units > 0, "units: how many times 8 mm it is long"); err != nil {
			return err
		}
	}
	for i, p := range s.Panels {
		if err := s.lacking("panel", i, p.Width > 0 && p.Length > 0 && p.Thickness > 0, "width, length and thickness"); err != nil {
			return err
		}
	}
	for i, r := range s.Racks {
		if err := s.lacking("rack", i, r.Module > 0 && r.Teeth > 0, "module and teeth (of one piece)"); err != nil {
			return err
		}
	}
	for i, b := range s.Belts {
		if err := s.lacking("belt", i, b.Pitch > 0 && b.Length > 0 && b.Lead == 0, "pitch and length"); err != nil {
			return err
		}
	}
	for i, c := range s.Screws {
		if err := s.lacking("screw", i, c.Lead > 0 && c.Length > 0 && c.Pitch == 0, "lead and length"); err != nil {
			return err
		}
	}
	for i, l := range s.Leads {
		if err := s.lacking("lead", i, l.Length > 0, "length"); err != nil {
			return err
		}
	}
	for i, it := range s.Items {
		if err := s.lacking("item", i, it.Name != "" && (it.Price != nil || it.Owned > 0 || it.Mass > 0), "the name that it has in a list, and its price, its mass or how many are owned"); err != nil {
			return err
		}
	}
	return nil
}
