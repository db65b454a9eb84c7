// SPDX-License-Identifier: Apache-2.0

// Package sheets draws what a rig's maker needs on paper and at the cutter: templates at 1:1,
// views of the machine to scale with the dimensions to be set, and what hangs on them. It
// takes a rig and returns drawings and files; it opens none.
package sheets

import (
	"fmt"
	"strings"

	"boardhand/internal/assess"
	"boardhand/internal/draw"
	"boardhand/internal/materials"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// Paper is a size of paper, upright, mm.
type Paper struct {
	Name string
	W, H float64
}

// size is its width and height.
func (p Paper) size() [2]float64 { return [2]float64{p.W, p.H} }

// Papers are those that can be printed on: ISO 216's A4 and A3, and ANSI/ASME Y14.1's letter.
var Papers = []Paper{{"a4", 210, 297}, {"a3", 297, 420}, {"letter", 215.9, 279.4}}

// PaperNamed is a size of paper by its name.
func PaperNamed(name string) (Paper, error) {
	var names []string
	for _, p := range Papers {
		if strings.EqualFold(p.Name, name) {
			return p, nil
		}
		names = append(names, p.Name)
	}
	return Paper{}, fmt.Errorf("--paper is one of %s; got %q", strings.Join(names, ", "), name)
}

// Order is what sheets are wanted of.
type Order struct {
	Rig    *rig.Rig
	Report assess.Report  // of the rig
	Parts  materials.List // what it takes
	Paper  Paper
	Only   []string // sheets by name; nil: all
	Date   string   // of issue, as it is printed; "" where none is
	Maker  string   // what drew it, with its version
}

// Sheet is one drawing: its pages, ready for the printer, and where it is drawn at 1:1 the whole
// of it, for browser and cutter.
type Sheet struct {
	Name  string // of its files
	Title string
	Use   string // one sentence: what it is for
	Scale string // "1:1", "1:5"; "" for lists
	Pages []*draw.Drawing
	Whole *draw.Drawing // nil where there is nothing to cut
	Bare  bool          // its pages are without frame and title block: they take the whole paper
}

// failing lists the checks that the rig fails, by their names.
func (o *Order) failing() (out []string) {
	for _, c := range o.Report.Checks {
		if c.Verdict == assess.Fail {
			out = append(out, c.ID)
		}
	}
	return out
}

// mm is a length in millimetres.
func mm(l unit.Length) float64 { return float64(l) * 1e3 }

// written is a length as dimensions are written: millimetres without their unit, to a tenth.
func written(v float64) string {
	s := strings.TrimRight(strings.TrimRight(fmt.Sprintf("%.1f", v), "0"), ".")
	if s == "-0" {
		return "0"
	}
	return s
}
