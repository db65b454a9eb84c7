// SPDX-License-Identifier: Apache-2.0

package nest

import (
	"cmp"
	"slices"

	"boardhand/internal/unit"
)

// slack is a length below which two places are one: rounding, far below any cut.
const slack = unit.Length(1e-9)

// order says which of two parts is laid first.
type order func(a, b Part) int

// orders of work: by area, by the longer side, by the shorter side, the largest first.
var orders = []order{
	func(a, b Part) int { return cmp.Compare(b.Width*b.Height, a.Width*a.Height) },
	func(a, b Part) int {
		return cmp.Or(cmp.Compare(max(b.Width, b.Height), max(a.Width, a.Height)), cmp.Compare(min(b.Width, b.Height), min(a.Width, a.Height)))
	},
	func(a, b Part) int {
		return cmp.Or(cmp.Compare(min(b.Width, b.Height), min(a.Width, a.Height)), cmp.Compare(max(b.Width, b.Height), max(a.Width, a.Height)))
	},
}

// one lists each part as often as it is to be cut, in order.
func one(parts []Part, o order) []Part {
	var out []Part
	for _, p := range parts {
		for range p.Count {
			out = append(out, p)
		}
	}
	slices.SortStableFunc(out, o)
	return out
}

// free is a rectangle of a sheet that nothing lies on yet.
type free struct{ x, y, w, h unit.Length }

// splitter says whether what is left beside a part in a corner of a free rectangle is
// first cut along its whole width.
type splitter func(leftWide, leftHigh unit.Length) bool

// shorterLeft and longerLeft cut along the side with less, or more, left.
func shorterLeft(w, h unit.Length) bool { return w < h }
func longerLeft(w, h unit.Length) bool  { return w >= h }

// stance says how parts may lie when several ways fit.
type stance int

const (
	anyhow   stance = iota // whichever leaves less
	lying                  // the longer side along the sheet's width, else as it fits
	standing               // the longer side along its height, else as it fits
	stances
)

// against is 1 where a side w by h lies against the stance, else 0.
func (st stance) against(w, h unit.Length) int {
	if st == lying && w < h || st == standing && w > h {
		return 1
	}
	return 0
}

// manner is one way of work.
type manner struct {
	order  order
	split  splitter
	stance stance
}

// manners are all ways of work.
func manners() (out []manner) {
	for _, o := range orders {
		for _, split := range []splitter{shorterLeft, longerLeft} {
			for st := range stances {
				out = append(out, manner{o, split, st})
			}
		}
	}
	return out
}

// choice is where a part would go: rectangle k of a sheet, turned or not, and the
// shorter length that it leaves there.
type choice struct {
	sheet, k int
	turned   bool
	against  int // the stance
	left     unit.Length
}

// before says whether a choice is better than another.
func (c choice) before(o choice) bool {
	if c.against != o.against {
		return c.against < o.against
	}
	return c.left < o.left-slack
}

// work lays parts one after the other, each where it leaves the shortest length beside
// it, on the sheets begun or on a new one. A part takes its cut with it, and a sheet is
// taken as a cut larger: at the far edges none is needed.
func (m manner) work(parts []Part, s Sheet) [][]Place {
	var sheets [][]Place
	var open [][]free
	for _, p := range one(parts, m.order) {
		c, ok := m.choose(open, p, s.Kerf)
		if !ok {
			open = append(open, []free{{s.Edge, s.Edge, s.Width - 2*s.Edge + s.Kerf, s.Height - 2*s.Edge + s.Kerf}})
			sheets = append(sheets, nil)
			c, _ = m.choose(open, p, s.Kerf)
		}
		w, h := p.Width, p.Height
		if c.turned {
			w, h = h, w
		}
		f := open[c.sheet][c.k]
		sheets[c.sheet] = append(sheets[c.sheet], Place{p.Name, f.x, f.y, w, h, c.turned})
		open[c.sheet] = slices.Delete(open[c.sheet], c.k, c.k+1)
		open[c.sheet] = append(open[c.sheet], f.without(w+s.Kerf, h+s.Kerf, m.split)...)
	}
	return sheets
}

// choose finds the free rectangle that fits a part best.
func (m manner) choose(open [][]free, p Part, kerf unit.Length) (best choice, ok bool) {
	for i, sheet := range open {
		for k, f := range sheet {
			for _, turned := range []bool{false, true} {
				w, h := p.Width+kerf, p.Height+kerf
				if turned {
					if p.Fixed {
						continue
					}
					w, h = h, w
				}
				if w > f.w+slack || h > f.h+slack {
					continue
				}
				if c := (choice{i, k, turned, m.stance.against(w, h), min(f.w-w, f.h-h)}); !ok || c.before(best) {
					best, ok = c, true
				}
			}
		}
	}
	return best, ok
}

// without is what is left of a free rectangle with a part in its corner: two
// rectangles, parted by a cut from edge to edge.
func (f free) without(w, h unit.Length, split splitter) []free {
	beside := free{f.x + w, f.y, f.w - w, h}
	above := free{f.x, f.y + h, f.w, f.h - h}
	if !split(f.w-w, f.h-h) {
		beside.h, above.w = f.h, w
	}
	var out []free
	for _, r := range []free{beside, above} {
		if r.w > slack && r.h > slack {
			out = append(out, r)
		}
	}
	return out
}
