// SPDX-License-Identifier: Apache-2.0

// Package knob is what a maker can change of a rig to mend it: keys of the rig file,
// alone or together, moved in steps that can be bought, cut or set.
package knob

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"

	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// Knob is one thing a maker can change: a key of the rig file, or two keys that
// go together. It moves in whole steps from where it stands.
type Knob struct {
	Name string
	// Turn returns the rig with the knob moved by n steps, and whether that is
	// still within what a rig may be.
	Turn func(r *rig.Rig, n int) (*rig.Rig, bool)
	// Settings are the keys with their values as they stand.
	Settings func(r *rig.Rig) []Setting
}

// Setting is one key of the rig file with a value as a maker writes it.
type Setting = rig.Setting

// Named is the knob of a name; false when there is none.
func Named(name string) (Knob, bool) {
	k, ok := knobs[name]
	return k, ok
}

// Names lists the knobs, those of one table of the rig file together.
func Names() []string { return slices.Sorted(maps.Keys(knobs)) }

// scale is how one quantity is written and moved: values in the unit that is
// written; per turns SI into it.
type scale struct {
	unit         string
	per          float64
	step, lo, hi float64
}

// number makes a knob of one key.
func number(key string, s scale, field func(*rig.Rig) *float64) Knob {
	return Knob{
		Name: key,
		Turn: func(r *rig.Rig, n int) (*rig.Rig, bool) {
			c := *r
			v := field(&c)
			now := *v * s.per
			next := onGrid(now, s.step, n)
			*v = next / s.per
			keepCentred(&c, r)
			return &c, next >= s.lo-1e-9 && next <= s.hi+1e-9 && next != now
		},
		Settings: func(r *rig.Rig) []Setting {
			return []Setting{{Key: key, Value: written(*field(r)*s.per, s.unit)}}
		},
	}
}

// onGrid moves v by n steps and onto the step's own grid: 599.3 mm by one step
// of 5 mm is 600 mm.
func onGrid(v, step float64, n int) float64 {
	k := v / step
	near := math.Round(k)
	switch {
	case math.Abs(k-near) < 1e-6:
		return (near + float64(n)) * step
	case n > 0:
		return (math.Floor(k) + float64(n)) * step
	}
	return (math.Ceil(k) + float64(n)) * step
}

// keepCentred moves an axis' origin with its travel where it stood in the
// middle: it is not written in the file then.
func keepCentred(c, was *rig.Rig) {
	for _, a := range [][2]*rig.Axis{{&c.Axis.X, &was.Axis.X}, {&c.Axis.Y, &was.Axis.Y}} {
		if a[1].Origin == a[1].Travel/2 {
			a[0].Origin = a[0].Travel / 2
		}
	}
}

func written(v float64, unit string) string {
	s := strconv.FormatFloat(v, 'g', 6, 64)
	if math.Abs(v) >= 1e5 {
		s = strconv.FormatFloat(v, 'f', -1, 64)
	}
	if unit == "" {
		return s
	}
	return fmt.Sprintf("%q", s+" "+unit)
}

// part is one quantity of a level knob: its key and where it is.
type part struct {
	key   string
	field func(*rig.Rig) *float64
}

// level makes a knob of several quantities of one kind: turned down it lowers
// all that are above a common limit, turned up it raises all that are below.
func level(name string, s scale, parts func(*rig.Rig) []part) Knob {
	return Knob{
		Name: name,
		Turn: func(r *rig.Rig, n int) (*rig.Rig, bool) {
			c := *r
			limit := math.Inf(n)
			all := parts(r)
			for _, p := range all {
				v := *p.field(&c) * s.per
				if n > 0 {
					limit = math.Min(limit, v)
				} else {
					limit = math.Max(limit, v)
				}
			}
			limit = onGrid(limit, s.step, n)
			for _, p := range all {
				if v := p.field(&c); n > 0 && *v*s.per < limit || n < 0 && *v*s.per > limit {
					*v = limit / s.per
				}
			}
			return &c, limit >= s.lo-1e-9 && limit <= s.hi+1e-9
		},
		Settings: func(r *rig.Rig) (out []Setting) {
			for _, p := range parts(r) {
				out = append(out, Setting{Key: p.key, Value: written(*p.field(r)*s.per, s.unit)})
			}
			return out
		},
	}
}

// Discs that are sold everywhere, millimetres; from memory of suppliers' lists.
// In order of their moment.
var discs = [][2]float64{{3, 1}, {3, 2}, {4, 1.5}, {4, 2}, {5, 2}, {6, 2}, {5, 3}, {5, 4}, {6, 3}, {6, 4}, {8, 2}, {8, 3}, {8, 4}, {10, 3},
	{8, 5}, {10, 4}, {10, 5}, {12, 4}, {12, 5}, {10, 8}, {12, 6}, {15, 4}, {15, 5}, {12, 10}, {15, 8}, {20, 5}, {18, 8}, {20, 8}, {20, 10}}

// disc makes a knob of a magnet's diameter and thickness together: n steps
// through the discs stronger (or weaker) than it.
func disc(table string, field func(*rig.Rig) (*unit.Length, *unit.Length)) Knob {
	return Knob{
		Name: table,
		Turn: func(r *rig.Rig, n int) (*rig.Rig, bool) {
			c := *r
			d, t := field(&c)
			at := place(float64(*d)*1e3, float64(*t)*1e3, n)
			if at < 0 || at >= len(discs) {
				return &c, false
			}
			*d, *t = unit.MM(discs[at][0]), unit.MM(discs[at][1])
			return &c, true
		},
		Settings: func(r *rig.Rig) []Setting {
			d, t := field(r)
			return []Setting{{Key: table + ".diameter", Value: written(float64(*d)*1e3, "mm")}, {Key: table + ".thickness", Value: written(float64(*t)*1e3, "mm")}}
		},
	}
}

// place is the index of the disc n steps stronger than d × t, by moment.
func place(d, t float64, n int) int {
	moment := d * d * t * (1 + 1e-9)
	weaker := 0
	for _, k := range discs {
		if k[0]*k[0]*k[1] < moment*(1-2e-9) {
			weaker++
		}
	}
	if n < 0 {
		return weaker + n
	}
	same := weaker
	for same < len(discs) && discs[same][0]*discs[same][0]*discs[same][1] <= moment {
		same++
	}
	return same + n - 1
}
