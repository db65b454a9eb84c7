// SPDX-License-Identifier: Apache-2.0

// Package propose searches the parts a maker owns or can buy for rigs that
// pass every check: which magnets, sheet, feet, gears and motors, what they
// cost, and why the rest fails. It prints nothing.
package propose

import (
	_ "embed"
	"errors"
	"fmt"
	"maps"
	"os"

	"boardhand/internal/magnet"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// ExampleText is a commented stock file to start from.
//
//go:embed example.toml
var ExampleText string

// Stock is what a maker owns or can buy. A kind of part that the file does not
// name stays as the rig has it. A part without a price cannot be bought: there
// are as many as are owned.
type Stock struct {
	Currency string    `toml:"currency"` // of the prices, any word
	Magnets  []Magnet  `toml:"magnet"`
	Sheets   []Sheet   `toml:"sheet"`
	Feet     []Foot    `toml:"foot"`
	Gears    []Gear    `toml:"gear"`
	Motors   []Motor   `toml:"motor"`
	Ballasts []Ballast `toml:"ballast"`
	Supplies []Supply  `toml:"supply"`
	Lenses   []Lens    `toml:"lens"`
	Elements []Element `toml:"element"`
	Panels   []Panel   `toml:"panel"`
	Racks    []Rack    `toml:"rack"`
	Belts    []Length  `toml:"belt"`
	Screws   []Length  `toml:"screw"`
	Leads    []Lead    `toml:"lead"`
	Items    []Item    `toml:"item"`
	Try      Try       `toml:"try"`
	path     string    // for messages
	heads    rig.Heads // for messages
}

// Magnet is a disc for the lift, for the feet, or for either.
type Magnet struct {
	Name      string      `toml:"name"`
	Diameter  unit.Length `toml:"diameter"`
	Thickness unit.Length `toml:"thickness"`
	Grade     string      `toml:"grade"`
	Use       string      `toml:"use"` // "lift" or "foot"; either when not given
	Price     *float64    `toml:"price"`
	Mass      unit.Mass   `toml:"mass"`
	Owned     int         `toml:"owned"`
}

// Sheet is a board to play on.
type Sheet struct {
	Name      string      `toml:"name"`
	Thickness unit.Length `toml:"thickness"`
	Warp      unit.Length `toml:"warp"`
	Friction  float64     `toml:"friction"` // as the rig's when not given
	Price     *float64    `toml:"price"`
	Mass      unit.Mass   `toml:"mass"`
	Owned     int         `toml:"owned"`
}

// Foot is what the pieces stand on: feet of one diameter, or a card ring that
// makes each foot wider.
type Foot struct {
	Name  string       `toml:"name"`
	Base  unit.Length  `toml:"base"`
	Wider *unit.Length `toml:"wider"` // the ring's outer less its inner diameter; 0 mm: feet as they are
	Price *float64     `toml:"price"`
	Owned int          `toml:"owned"`
}

// Gear is a pinion with its rack, a pulley with its belt, or a screw.
type Gear struct {
	Name       string       `toml:"name"`
	Drive      string       `toml:"drive"`
	Module     unit.Length  `toml:"module"`
	Pitch      unit.Length  `toml:"pitch"`
	Lead       unit.Length  `toml:"lead"`
	Teeth      int          `toml:"teeth"`
	Efficiency float64      `toml:"efficiency"`
	Backlash   *unit.Length `toml:"backlash"` // as the rig's when not given
	Price      *float64     `toml:"price"`
	Mass       unit.Mass    `toml:"mass"`
	Owned      int          `toml:"owned"`
}

// Motor drives an axis; its keys are those of the rig's motors.
type Motor struct {
	Name  string    `toml:"name"`
	Price *float64  `toml:"price"`
	Mass  unit.Mass `toml:"mass"`
	Owned int       `toml:"owned"`

	Kind        string          `toml:"kind"`
	StallTorque unit.Torque     `toml:"stall_torque"`
	FreeSpeed   unit.Turning    `toml:"free_speed"`
	Counts      int             `toml:"counts"`
	Gearing     float64         `toml:"gearing"`
	Voltage     unit.Voltage    `toml:"voltage"`
	Current     unit.Current    `toml:"current"`
	Inductance  unit.Inductance `toml:"inductance"`
	FullSteps   int             `toml:"full_steps"`
}

// Try is what costs nothing to change.
type Try struct {
	Square       []unit.Length       `toml:"square"`
	CameraHeight []unit.Length       `toml:"camera_height"`
	Speed        []unit.Speed        `toml:"speed"`        // of both axes
	Acceleration []unit.Acceleration `toml:"acceleration"` // of both axes
	Drop         []unit.Length       `toml:"drop"`         // of the lift
	Box          string              `toml:"box"`          // "as needed": walls and travel follow from the squares
}

// form says which ranges and words the keys of a stock take.
var form = func() rig.Form {
	f := rig.Form{Ranges: map[string][2]string{"foot.wider": {"0 mm", "40 mm"}, "ballast.adds": {"0 g", "200 g"}, "try.drop": {"1 mm", "60 mm"}}, Words: map[string][]string{"magnet.use": {"lift", "foot"}, "element.course": {"full", "plate"}, "panel.use": {"wall", "card"}, "lead.use": {"motor", "switch", "camera", "supply"}, "try.box": {boxNeeded}},
		As: map[string]string{
			"magnet.diameter": "lift.diameter", "magnet.thickness": "lift.thickness",
			"sheet.thickness": "board.thickness", "sheet.warp": "board.warp", "sheet.friction": "board.friction",
			"foot.base":   "pieces.king.base",
			"rack.module": "axis.x.module", "belt.pitch": "axis.x.pitch", "screw.lead": "axis.x.lead",
			"try.square": "board.square", "try.camera_height": "camera.height", "try.speed": "axis.x.speed", "try.acceleration": "axis.x.acceleration",
			"supply.voltage": "power.voltage", "supply.current": "power.current",
		}}
	for _, k := range []string{"image", "hfov", "dfov", "focal", "stop", "focus"} {
		f.As["lens."+k] = "camera." + k
	}
	for _, k := range []string{"drive", "module", "pitch", "lead", "teeth", "efficiency", "backlash"} {
		f.As["gear."+k] = "axis.x." + k
	}
	for _, k := range []string{"kind", "stall_torque", "free_speed", "counts", "gearing", "voltage", "current", "inductance", "full_steps"} {
		f.As["motor."+k] = "axis.x.motor." + k
	}
	maps.Copy(f.Ranges, partRanges)
	for _, t := range []string{"magnet", "sheet", "foot", "gear", "motor", "ballast", "supply", "lens", "element", "panel", "rack", "belt", "screw", "lead", "item"} {
		f.Ranges[t+".price"], f.Ranges[t+".owned"] = [2]string{"0", "1000000"}, [2]string{"0", "100000"}
		f.Ranges[t+".mass"] = [2]string{"0 g", "100 kg"}
	}
	return f
}()

// LoadStock reads a stock file.
func LoadStock(path string) (*Stock, error) {
	data, err := os.ReadFile(path)
	if errors.Is(err, os.ErrNotExist) {
		return nil, fmt.Errorf("%s: no such file; `boardhand propose --example %s` writes one to start from", path, path)
	}
	if err != nil {
		return nil, fmt.Errorf("cannot read the stock file: %w", err)
	}
	return ParseStock(path, data)
}

// ParseStock reads the text of a stock file: as strictly as a rig file, with
// the line in every error.
func ParseStock(path string, data []byte) (*Stock, error) {
	s := &Stock{path: path}
	var err error
	if s.heads, err = form.Read(path, data, s); err != nil {
		return nil, err
	}
	for _, check := range []func() error{s.checkMagnets, s.checkSheets, s.checkFeet, s.checkGears, s.checkMotors, s.checkFittings, s.checkParts, s.checkTry} {
		if err := check(); err != nil {
			return nil, err
		}
	}
	return s, nil
}

// fault is an error at the i-th table of a kind.
func (s *Stock) fault(kind string, i int, format string, a ...any) error {
	where := s.path
	if lines := s.heads[kind]; i < len(lines) {
		where = fmt.Sprintf("%s:%d", s.path, lines[i])
	}
	return fmt.Errorf("%s: [[%s]] %s", where, kind, fmt.Sprintf(format, a...))
}

// lacking is the error of a part that lacks a key; nil where has is true.
func (s *Stock) lacking(kind string, i int, has bool, what string) error {
	if has {
		return nil
	}
	return s.fault(kind, i, "needs %s", what)
}

func (s *Stock) checkMagnets() error {
	for i, m := range s.Magnets {
		if err := s.lacking("magnet", i, m.Diameter > 0 && m.Thickness > 0 && m.Grade != "", "diameter, thickness and grade"); err != nil {
			return err
		}
		if _, _, err := magnet.Grade(m.Grade); err != nil {
			return s.fault("magnet", i, "grade: %v", err)
		}
		if err := s.lacking("magnet", i, m.Use != "foot" || m.fitsFoot(), "to be at most 40 mm wide and 30 mm thick for a foot"); err != nil {
			return err
		}
		if err := s.obtainable("magnet", i, m.Price, m.Owned); err != nil {
			return err
		}
	}
	return nil
}

func (s *Stock) obtainable(kind string, i int, price *float64, owned int) error {
	return s.lacking(kind, i, price != nil || owned > 0, "a price, or how many are owned: otherwise there are none")
}

func (s *Stock) checkSheets() error {
	for i, h := range s.Sheets {
		if err := s.lacking("sheet", i, h.Thickness > 0, "thickness"); err != nil {
			return err
		}
		if err := s.obtainable("sheet", i, h.Price, h.Owned); err != nil {
			return err
		}
	}
	return nil
}

func (s *Stock) checkFeet() error {
	for i, f := range s.Feet {
		if err := s.lacking("foot", i, (f.Base > 0) != (f.Wider != nil), "either base (feet of that diameter) or wider (a card ring), not both"); err != nil {
			return err
		}
	}
	return nil
}

func (s *Stock) checkGears() error {
	for i, g := range s.Gears {
		what := map[string]string{"rack": "module and teeth", "belt": "pitch and teeth", "screw": "lead and efficiency (about 0.3 for a plain nut, 0.9 for balls)"}
		if err := s.lacking("gear", i, g.Drive != "", `drive: "rack", "belt" or "screw"`); err != nil {
			return err
		}
		has := g.Drive == "rack" && g.Module > 0 && g.Teeth > 0 || g.Drive == "belt" && g.Pitch > 0 && g.Teeth > 0 || g.Drive == "screw" && g.Lead > 0 && g.Efficiency > 0
		if err := s.lacking("gear", i, has, what[g.Drive]); err != nil {
			return err
		}
		if err := s.obtainable("gear", i, g.Price, g.Owned); err != nil {
			return err
		}
	}
	return nil
}

func (s *Stock) checkMotors() error {
	for i, m := range s.Motors {
		has := m.Kind != "" && m.StallTorque > 0 && m.FreeSpeed > 0 && m.Counts > 0 && m.Voltage > 0 && m.Current > 0
		if err := s.lacking("motor", i, has, "kind, stall_torque, free_speed, counts, voltage and current"); err != nil {
			return err
		}
		if err := s.lacking("motor", i, m.Kind != "stepper" || m.Inductance > 0 && m.FullSteps > 0, "inductance and full_steps, being a stepper"); err != nil {
			return err
		}
		if err := s.obtainable("motor", i, m.Price, m.Owned); err != nil {
			return err
		}
	}
	return nil
}

func (s *Stock) checkTry() error {
	parts := len(s.Magnets) + len(s.Sheets) + len(s.Feet) + len(s.Gears) + len(s.Motors) + len(s.Ballasts) + len(s.Supplies) + len(s.Lenses) + s.Parts().count()
	tries := len(s.Try.Square) + len(s.Try.CameraHeight) + len(s.Try.Speed) + len(s.Try.Acceleration) + len(s.Try.Drop) + len(s.Try.Box)
	if parts+tries == 0 {
		return fmt.Errorf("%s: no part and nothing to try is named; `boardhand propose --example FILE` writes a stock to start from", s.path)
	}
	return nil
}
