// SPDX-License-Identifier: Apache-2.0

package commission

import (
	"fmt"
	"strings"

	"boardhand/internal/assess/figure"
	"boardhand/internal/assess/paper"
	"boardhand/internal/measured"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// Record is the document of a bring-up.
func Record(r *rig.Rig, f *measured.File) paper.Document {
	lines := Lines(r, f)
	d := paper.Document{Title: "Commissioning record", Lead: lead(f, lines),
		Head: []string{"", "figure", "planned", "measured", "σ", "allowed", "unit"}, Widths: []float64{14, 66, 22, 24, 18, 20, 12}}
	for _, l := range lines {
		planned, measured, sigma, allowed := l.Words()
		row := paper.Row{Cells: []string{"within", l.What, planned, measured, sigma, allowed, l.Unit}}
		if l.IsOff() {
			row.IsOff, row.Cells[0], row.Note = true, "off", "Likely: "+l.Cause+"."
		}
		d.Rows = append(d.Rows, row)
	}
	if len(f.Places) > 0 {
		d.Figures = append(d.Figures, Residuals(r, f))
	}
	d.Notes = dates(f)
	return d
}

// lead is the first paragraph.
func lead(f *measured.File, lines []Line) string {
	off := 0
	for _, l := range lines {
		if l.IsOff() {
			off++
		}
	}
	text := fmt.Sprintf("Machine: %s. %s compared with the rig file; ", f.Machine, unit.Count(len(lines), "figure"))
	switch off {
	case 0:
		text += "all are within what is allowed."
	case 1:
		text += "one is off, with its likely cause below it."
	default:
		text += fmt.Sprintf("%d are off, each with its likely cause below it.", off)
	}
	return text + " Carries use the measured axes, so that what is off need not be mended before the first game; σ is the standard deviation by the scatter of the sightings."
}

// number writes a figure with the digits that its unit deserves.
func number(v float64, unit string) string {
	switch unit {
	case "":
		return fmt.Sprintf("%.4f", v)
	case "mm/s":
		return fmt.Sprintf("%.0f", v)
	case "deg":
		return fmt.Sprintf("%.3f", v+0)
	}
	return fmt.Sprintf("%.2f", v+0)
}

// Note is a part that was done.
type Note struct {
	Step, Name, When string
	Text             string // what was noted; ""
}

// dates say when each part was done, and what was noted.
func dates(f *measured.File) (out []string) {
	for _, n := range Notes(f) {
		when, _, _ := strings.Cut(n.When, "T")
		text := n.Name + ", " + when
		if n.Text != "" {
			text += ": " + n.Text
		}
		out = append(out, text+".")
	}
	return out
}

// Notes are the parts that were done.
func Notes(f *measured.File) (out []Note) {
	add := func(name, when, text string) {
		step, _, _ := strings.Cut(strings.ToLower(name), " ")
		out = append(out, Note{Step: step, Name: name, When: when, Text: text})
	}
	for _, p := range []struct {
		name string
		done *measured.Done
	}{{"Cautions", f.Cautions}, {"Controller", f.Controller}, {"Homing", f.Homing}, {"Travel and cables", f.Travel}, {"Direction", f.Direction}} {
		if p.done != nil {
			add(p.name, p.done.When, p.done.Note)
		}
	}
	if l := f.Lens; l.IsKnown() {
		add("Lens", l.When, fmt.Sprintf("%d pictures of a checkerboard, focal length %.2f ± %.2f px, middle at %.2f ± %.2f and %.2f ± %.2f px, corners off by %.2f px", l.Pictures,
			l.Focal[0], l.FocalSigma[0], l.Centre[0], l.CentreSigma[0], l.Centre[1], l.CentreSigma[1], l.RMS))
	}
	if c := f.Camera; c != nil {
		add("Camera", c.When, fmt.Sprintf("lens %s, %.2f deg across, k1 %.4f, k2 %.4f; %.1f mm to the right, %.1f mm towards rank 8, %.1f mm high", c.Lens, c.HFOV.Degrees(), c.K1, c.K2, c.X.MM(), c.Y.MM(), c.Height.MM()))
	}
	if a := f.Axes; a != nil {
		add("Axes", a.When, fmt.Sprintf("%d sightings, %d left out as outliers, %.2f mm left of each coordinate, most of it lag that differs from place to place", len(f.Places), measured.Outliers(f.Places), a.RMS.MM()))
	}
	if l := f.Lead; l != nil {
		add("Lead", l.When, fmt.Sprintf("%d carries, at most %.2f mm off", l.Carries, l.Farthest.MM()))
	}
	if n := f.Returns; n != nil {
		add("Returns", n.When, fmt.Sprintf("%d returns, σ %.3f and %.3f mm, at most %.3f mm from their middle", n.Count, n.Sigma[0].MM(), n.Sigma[1].MM(), n.Farthest.MM()))
	}
	if v := f.Speed; v != nil {
		note := "never lost"
		if v.Lost > 0 {
			note = fmt.Sprintf("lost at %.0f mm/s", float64(v.Lost)*1e3)
		}
		add("Speed", v.When, fmt.Sprintf("kept up to %.0f mm/s, %s", float64(v.Kept)*1e3, note))
	}
	if g := f.Gap; g != nil {
		note := fmt.Sprintf("a standing piece stayed while another passed at %.1f mm, as near as bases may come", g.Safe.MM())
		if g.Dragged > 0 {
			note = fmt.Sprintf("a standing piece was dragged along by another that passed at %.1f mm", g.Dragged.MM())
		}
		add("Gap", g.When, note)
	}
	return out
}

// Residuals draws what the axes as estimated leave of each sighting, enlarged.
func Residuals(r *rig.Rig, f *measured.File) figure.Figure {
	x, y := r.Board.Half()
	out := figure.Figure{ID: "residuals", Title: "What is left at each place", Equal: true, XLabel: "x, mm", YLabel: "y, mm",
		X: figure.Extent{From: -x.MM() - 12, To: x.MM() + 12}, Y: figure.Extent{From: -y.MM() - 12, To: y.MM() + 12},
		Caption: fmt.Sprintf("Each stroke goes from where the axes as estimated expect the piece to where the picture shows it, drawn %.0f times as long. Strokes along the ways that the piece was dragged are lag, which varies with the board's warp; a pattern across them would be an axis that is bent.", enlarged)}
	sq := r.Board.Square.MM()
	for k := range r.Board.Files + 1 {
		v := -x.MM() + float64(k)*sq
		out.Lines = append(out.Lines, figure.Line{Stroke: figure.Dotted, X: []float64{v, v}, Y: []float64{-y.MM(), y.MM()}})
	}
	for k := range r.Board.Ranks + 1 {
		v := -y.MM() + float64(k)*sq
		out.Lines = append(out.Lines, figure.Line{Stroke: figure.Dotted, X: []float64{-x.MM(), x.MM()}, Y: []float64{v, v}})
	}
	named := map[figure.Stroke]string{figure.Bold: fmt.Sprintf("left of a sighting, × %.0f", enlarged), figure.Signal: "outlier, left out"}
	for _, p := range f.Places {
		stroke := figure.Bold
		if p.Outlier {
			stroke = figure.Signal
		}
		a := [2]float64{(p.At[0] - p.Off[0]).MM(), (p.At[1] - p.Off[1]).MM()}
		out.Lines = append(out.Lines, figure.Line{Name: named[stroke], Stroke: stroke, X: []float64{a[0], a[0] + enlarged*p.Off[0].MM()}, Y: []float64{a[1], a[1] + enlarged*p.Off[1].MM()}},
			dot(a))
		named[stroke] = ""
	}
	return out
}

// dot is a small cross where a stroke begins.
func dot(at [2]float64) figure.Line {
	const r = 1.2
	return figure.Line{Stroke: figure.Thin, X: []float64{at[0] - r, at[0] + r, at[0], at[0], at[0]}, Y: []float64{at[1], at[1], at[1], at[1] - r, at[1] + r}}
}
