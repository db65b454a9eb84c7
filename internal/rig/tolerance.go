// SPDX-License-Identifier: Apache-2.0

package rig

import "boardhand/internal/unit"

// Tolerance is by how much a built machine may differ from its rig file. What is not
// given is zero here; package budget fills it in.
type Tolerance struct {
	Placement LengthTolerance `toml:"placement"` // where the carriage stands, backlash taken up
	Camera    LengthTolerance `toml:"camera"`    // where the reader takes a standing piece to be
	Person    LengthTolerance `toml:"person"`    // how far off its middle a person sets a piece
	Glue      LengthTolerance `toml:"glue"`      // a magnet off its base's middle
	Base      LengthTolerance `toml:"base"`      // diameter of a base
	Gap       LengthTolerance `toml:"gap"`       // sheet, air and recess together
	Field     LengthTolerance `toml:"field"`     // where the board lies on the machine
	Hang      LengthTolerance `toml:"hang"`      // height of the camera
	Mass      ShareTolerance  `toml:"mass"`      // of a piece
	Friction  ShareTolerance  `toml:"friction"`  // of all bases on this board
	Pads      ShareTolerance  `toml:"pads"`      // of one base against the others
	Remanence ShareTolerance  `toml:"remanence"` // of both magnets; those of the grade when not given
	Discs     ShareTolerance  `toml:"discs"`     // of one base's magnet against the others of its batch
	Model     ShareTolerance  `toml:"model"`     // of a real pair's forces against the computed
	Spring    ShareTolerance  `toml:"spring"`    // of its preload
	Motor     ShareTolerance  `toml:"motor"`     // of its stall torque
}

// LengthTolerance is one tolerance in length. Within is two standard deviations of a
// normal one, and the ends of a uniform or triangular one.
type LengthTolerance struct {
	Within *unit.Length `toml:"within"`
	Shape  string       `toml:"shape"`  // "normal", "uniform", "triangular"
	Source string       `toml:"source"` // who says so
}

// ShareTolerance is one tolerance as a share of its quantity; Within as in LengthTolerance.
type ShareTolerance struct {
	Within *float64 `toml:"within"`
	Shape  string   `toml:"shape"`
	Source string   `toml:"source"`
}

// Or is what the tolerance is within, or otherwise where the rig file does not say.
func (t LengthTolerance) Or(otherwise unit.Length) unit.Length {
	if t.Within != nil {
		return *t.Within
	}
	return otherwise
}
