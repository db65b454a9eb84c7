// SPDX-License-Identifier: Apache-2.0

// Package measured keeps what bring-up measured at one machine, each with its date, in
// bringup.toml beside the rig file. The maker's own file is never written.
package measured

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"github.com/pelletier/go-toml/v2"

	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// Name of the file, beside the rig file.
const Name = "bringup.toml"

// File is what was measured; a part that is nil was not.
type File struct {
	Machine    string   `toml:"machine"` // which one: its controller, or the twin and its seed
	Cautions   *Done    `toml:"cautions,omitempty"`
	Lens       *Lens    `toml:"lens,omitempty"`
	Camera     *Camera  `toml:"camera,omitempty"`
	Controller *Done    `toml:"controller,omitempty"`
	Homing     *Done    `toml:"homing,omitempty"`
	Travel     *Done    `toml:"travel,omitempty"`
	Direction  *Done    `toml:"direction,omitempty"`
	Axes       *Axes    `toml:"axes,omitempty"`
	Lead       *Lead    `toml:"lead,omitempty"`
	Returns    *Returns `toml:"returns,omitempty"`
	Speed      *Speed   `toml:"speed,omitempty"`
	Gap        *Gap     `toml:"gap,omitempty"`
	Places     []Place  `toml:"place,omitempty"` // where the axes were measured
}

// Done is a part that was done, with what was seen.
type Done struct {
	When string `toml:"date"`
	Note string `toml:"note,omitempty"`
}

// Camera is where the camera hangs and what it sees.
type Camera struct {
	When   string      `toml:"date"`
	X      unit.Length `toml:"x"` // of its lens, board frame
	Y      unit.Length `toml:"y"`
	Height unit.Length `toml:"height"`
	Tilt   unit.Angle  `toml:"tilt"`
	Turn   [3]float64  `toml:"turn"` // rotation vector from the board frame to the camera's, rad; 0 where it was not kept
	HFOV   unit.Angle  `toml:"hfov"`
	K1     float64     `toml:"k1"`
	K2     float64     `toml:"k2"`
	Lens   string      `toml:"lens"` // "measured" or "from the board"

	Sigma [3]unit.Length `toml:"sigma"` // of x, y and height; 0 where the lens was not measured
}

// Axes are the figures of the axes as built, each with its standard deviation.
type Axes struct {
	When     string         `toml:"date"`
	Scale    [2]float64     `toml:"scale"` // true travel over counted, x and y
	Skew     unit.Angle     `toml:"skew"`  // the y axis leans so far towards x
	Turn     unit.Angle     `toml:"turn"`  // of the board on the machine
	Centre   [2]unit.Length `toml:"centre"`
	Backlash [2]unit.Length `toml:"backlash"`
	Lag      unit.Length    `toml:"lag"`

	ScaleSigma    [2]float64     `toml:"scale_sigma"`
	SkewSigma     unit.Angle     `toml:"skew_sigma"`
	TurnSigma     unit.Angle     `toml:"turn_sigma"`
	CentreSigma   [2]unit.Length `toml:"centre_sigma"`
	BacklashSigma [2]unit.Length `toml:"backlash_sigma"`
	LagSigma      unit.Length    `toml:"lag_sigma"`
	RMS           unit.Length    `toml:"rms"`
}

// Lead is how far off a piece stands when the magnet has sunk where it was planned.
type Lead struct {
	When     string      `toml:"date"`
	Along    unit.Length `toml:"along"`    // on average, beyond its place in the direction of the carry
	Farthest unit.Length `toml:"farthest"` // from its place
	Carries  int         `toml:"carries"`
}

// Returns is how well the carriage comes back to one place.
type Returns struct {
	When     string         `toml:"date"`
	Count    int            `toml:"count"`
	Sigma    [2]unit.Length `toml:"sigma"`
	Farthest unit.Length    `toml:"farthest"` // from their middle
}

// Speed is how fast a piece is carried.
type Speed struct {
	When string     `toml:"date"`
	Kept unit.Speed `toml:"kept"`           // the fastest at which it came along
	Lost unit.Speed `toml:"lost,omitempty"` // the slowest at which it was lost; 0: never
}

// Gap is how near a carried piece may pass a standing one.
type Gap struct {
	When    string      `toml:"date"`
	Safe    unit.Length `toml:"safe"`              // centre to centre, at which the standing one stayed
	Dragged unit.Length `toml:"dragged,omitempty"` // at which it did not; 0: always stayed
}

// Place is one sighting of the piece and what the axes as estimated leave of it.
type Place struct {
	At      [2]unit.Length `toml:"at"`
	Off     [2]unit.Length `toml:"off"`
	Outlier bool           `toml:"outlier,omitempty"`
}

// Beside is where the file of a rig is.
func Beside(rigPath string) string { return filepath.Join(filepath.Dir(rigPath), Name) }

// form is how strictly the file is read.
var form = rig.Form{Ranges: map[string][2]string{
	"axes.scale": {"0.5", "2"}, "axes.skew": {"-10 deg", "10 deg"}, "axes.turn": {"-10 deg", "10 deg"},
	"axes.centre": {"0 mm", "2000 mm"}, "axes.backlash": {"-1 mm", "10 mm"}, "axes.lag": {"-5 mm", "20 mm"},
	"camera.turn": {"-3.2", "3.2"}, "camera.height": {"100 mm", "3000 mm"}, "camera.hfov": {"10 deg", "150 deg"},
	"lens.focal_px": {"50", "20000"}, "lens.centre_px": {"0", "20000"}, "lens.radial": {"-2", "2"}, "lens.decentring": {"-0.1", "0.1"}, "lens.correlation": {"-1", "1"},
}}

// Load reads the file of a rig; a rig without one has a file in which nothing was measured.
func Load(rigPath string) (*File, error) {
	path := Beside(rigPath)
	data, err := os.ReadFile(path)
	if errors.Is(err, os.ErrNotExist) {
		return &File{}, nil
	}
	if err != nil {
		return nil, fmt.Errorf("cannot read what was measured: %w", err)
	}
	f := &File{}
	if _, err := form.Read(path, data, f); err != nil {
		return nil, fmt.Errorf("%w; mend it, or delete it and run `boardhand bringup` again", err)
	}
	return f, nil
}

// heading of the file.
const heading = `# What boardhand bringup measured at this machine, with the date of each. The rig file
# is what was planned; play takes axes and lens from here. To measure a part anew, delete it
# and run bringup again; delete the whole file when the machine was rebuilt.

`

// Save writes the file whole or not at all.
func (f *File) Save(rigPath string) error {
	text, err := toml.Marshal(f)
	if err != nil {
		return err
	}
	path := Beside(rigPath)
	tmp, err := os.CreateTemp(filepath.Dir(path), Name+".*")
	if err != nil {
		return fmt.Errorf("cannot keep what was measured: %w", err)
	}
	defer func() { _ = os.Remove(tmp.Name()) }()
	_, err = tmp.Write(append([]byte(heading), bytes.TrimLeft(text, "\n")...))
	if err = errors.Join(err, tmp.Sync(), tmp.Close()); err != nil {
		return fmt.Errorf("cannot keep what was measured: %w", err)
	}
	if err := os.Rename(tmp.Name(), path); err != nil {
		return fmt.Errorf("cannot keep what was measured: %w", err)
	}
	return nil
}

// Forget drops a part by its name in the file; false when there is none of that name.
func (f *File) Forget(name string) bool {
	switch name {
	case "cautions":
		f.Cautions = nil
	case "controller":
		f.Controller = nil
	case "lens":
		f.Lens, f.Camera = nil, nil // where the camera hangs was found with it
	case "camera":
		f.Camera = nil
	case "homing":
		f.Homing = nil
	case "travel":
		f.Travel = nil
	case "direction":
		f.Direction = nil
	case "axes":
		f.Axes, f.Places = nil, nil
	case "lead":
		f.Lead = nil
	case "returns":
		f.Returns = nil
	case "speed":
		f.Speed = nil
	case "gap":
		f.Gap = nil
	default:
		return false
	}
	return true
}
