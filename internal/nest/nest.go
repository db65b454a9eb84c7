// SPDX-License-Identifier: Apache-2.0

// Package nest lays rectangles on stock sheets so that they can be cut out by cuts
// from edge to edge, with the width of the cut between them.
package nest

import (
	"fmt"

	"boardhand/internal/unit"
)

// Part is a rectangle to be cut, so many times.
type Part struct {
	Name          string
	Width, Height unit.Length
	Count         int
	Fixed         bool // not to be turned by a quarter: grain, print
}

// Sheet is what the parts are cut from.
type Sheet struct {
	Width, Height unit.Length
	Kerf          unit.Length // width of a cut
	Edge          unit.Length // kept free around
}

// Place is a part on a sheet: its corner nearest the sheet's origin, from there, and
// its sides as laid.
type Place struct {
	Name          string
	X, Y          unit.Length
	Width, Height unit.Length
	Turned        bool
}

// Layout is parts laid on sheets of one size.
type Layout struct {
	Sheet  Sheet
	Sheets [][]Place
}

// Used is the parts' share of the sheets' area.
func (l Layout) Used() float64 {
	sum := 0.0
	for _, s := range l.Sheets {
		for _, p := range s {
			sum += float64(p.Width * p.Height)
		}
	}
	if len(l.Sheets) == 0 {
		return 0
	}
	return sum / (float64(len(l.Sheets)) * float64(l.Sheet.Width*l.Sheet.Height))
}

// Pack lays all parts on as few sheets as it finds: several orders of work and ways to
// cut are tried, and the best one is kept. It is not always the fewest there could be.
// A part that fits no sheet is an error that names it.
func Pack(parts []Part, s Sheet) (Layout, error) {
	for _, p := range parts {
		if p.Count > 0 && !s.holds(p) {
			return Layout{}, fmt.Errorf("%s, %s × %s, does not fit on a sheet of %s × %s with %s kept free around: take a larger sheet",
				p.Name, p.Width, p.Height, s.Width, s.Height, s.Edge)
		}
	}
	var best Layout
	found := false
	for _, m := range manners() {
		if l := (Layout{s, m.work(parts, s)}); !found || l.better(best) {
			best, found = l, true
		}
	}
	return best, nil
}

// holds says whether a part fits on an empty sheet.
func (s Sheet) holds(p Part) bool {
	w, h := s.Width-2*s.Edge+slack, s.Height-2*s.Edge+slack
	return p.Width > 0 && p.Height > 0 && (p.Width <= w && p.Height <= h || !p.Fixed && p.Height <= w && p.Width <= h)
}

// better says whether a layout takes fewer sheets, or less of the last one.
func (l Layout) better(o Layout) bool {
	if len(l.Sheets) != len(o.Sheets) {
		return len(l.Sheets) < len(o.Sheets)
	}
	return l.last() < o.last()-slack*slack
}

// last is the area of the smallest rectangle at the origin that holds all parts on the
// last sheet.
func (l Layout) last() unit.Length {
	var w, h unit.Length
	if n := len(l.Sheets); n > 0 {
		for _, p := range l.Sheets[n-1] {
			w, h = max(w, p.X+p.Width), max(h, p.Y+p.Height)
		}
	}
	return w * h
}
