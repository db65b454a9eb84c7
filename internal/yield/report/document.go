// SPDX-License-Identifier: Apache-2.0

// Package report runs the builds of a rig and puts what they say into the rig's report.
package report

import (
	"context"
	"fmt"
	"math"
	"strings"

	"boardhand/internal/assess/figure"
	"boardhand/internal/assess/paper"
	"boardhand/internal/budget"
	"boardhand/internal/rig"
	"boardhand/internal/yield"
)

// Builds and Seed of a run when nothing else is said.
const (
	Builds = yield.Builds
	Seed   = yield.Seed
)

// Of draws builds of a rig from its budget and judges them.
func Of(ctx context.Context, r *rig.Rig, o yield.Options) (yield.Result, error) {
	if o.Builds < 1 || o.Builds > yield.MostBuilds {
		return yield.Result{}, fmt.Errorf("--yield takes 1 to %d builds; got %d", yield.MostBuilds, o.Builds)
	}
	b, err := budget.Of(r)
	if err != nil {
		return yield.Result{}, err
	}
	m, err := yield.Of(r, b)
	if err != nil {
		return yield.Result{}, err
	}
	return m.Run(ctx, o)
}

// Options of a run.
type Options = yield.Options

// Document is the result as a part of the report: a line each, and tornado plots of what
// matters to a whole game and to the line with the least reserve.
func Document(r yield.Result) paper.Document {
	d := paper.Document{Title: "How many builds work", Lead: r.Verdict() + ". " + strings.ReplaceAll(yield.Legend, "\n", " "),
		Head: []string{"line", "", "works", "reserve", "drawn", "rss", "worst", "unit"}, Widths: []float64{36, 57, 13, 15, 14, 14, 14, 13}}
	for _, l := range r.Lines {
		row := paper.Row{Cells: []string{l.ID, l.Title, yield.Share(l.Works), l.Sigmas(), yield.Figure(l.Margin), yield.Figure(l.Root), yield.Figure(l.Worst), l.Unit}, IsOff: l.Works < 1}
		if named := yield.Named(l.Matters); named != "" {
			row.Note = "What matters most: " + named + "."
		}
		d.Rows = append(d.Rows, row)
	}
	if len(r.Matters) > 0 {
		d.Figures = append(d.Figures, tornado("yield-game", "What matters to a whole game",
			"Each tolerance alone at either end: the least reserve of all lines then. The heavy tick is the machine as drawn.", "least reserve, σ", r.Matters))
	}
	if len(r.Lines) > 0 && len(r.Lines[0].Matters) > 0 {
		l := r.Lines[0]
		d.Figures = append(d.Figures, tornado("yield-line", "What matters to "+l.ID,
			fmt.Sprintf("%s has the least reserve. Each tolerance alone at either end: the margin then; below zero the line fails.", l.Title), "margin, "+l.Unit, l.Matters))
	}
	for _, e := range r.Budget {
		d.Notes = append(d.Notes, fmt.Sprintf("%s (%s): %s, %s; %s", e.Title, e.Key, e.Within, e.Shape, e.Source))
	}
	return d
}

// tornado is a bar for each tolerance, the widest on top.
func tornado(id, title, caption, unit string, all []yield.Swing) figure.Figure {
	all = all[:min(len(all), mostBars)]
	f := figure.Figure{ID: id, Title: title, Caption: caption, XLabel: unit, X: figure.Extent{From: math.Inf(1), To: math.Inf(-1)}, Y: figure.Extent{To: 1}}
	for _, s := range all {
		if s.Fall < leastBar*all[0].Fall {
			break
		}
		middle := s.Fall + min(s.From, s.To)
		f.Bars = append(f.Bars, figure.Bar{Name: s.Title, From: min(s.From, s.To), Middle: middle, To: max(s.From, s.To, middle)})
		f.X.From, f.X.To = min(f.X.From, s.From, s.To), max(f.X.To, s.From, s.To, middle)
	}
	spare := 0.06 * (f.X.To - f.X.From)
	f.X.From, f.X.To = f.X.From-spare, f.X.To+spare
	return f
}
