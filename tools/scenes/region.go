// SPDX-License-Identifier: Apache-2.0

package main

import (
	"image"
	"math"
	"slices"
)

// margin is what is drawn anew around a change, in the sheet's pixels: the
// antialiasing looks at neighbours.
const margin = 8

// changed returns the part of the sheet in which two shots with the same
// view may differ: pieces, their shadows and their mirror images.
func (st *studio) changed(a, b shot) image.Rectangle {
	var r image.Rectangle
	for _, pair := range [2][2][]piece{{a.pieces, b.pieces}, {b.pieces, a.pieces}} {
		for _, m := range pair[0] {
			if !slices.Contains(pair[1], m) {
				r = r.Union(st.extent(m, b.view))
			}
		}
	}
	for _, e := range b.extra {
		r = r.Union(st.reach(e, b.view))
	}
	return r.Inset(-margin).Intersect(image.Rect(0, 0, st.sheet.w, st.sheet.h))
}

// extent is the part of the sheet that a piece, its shadow and its mirror image
// may touch.
func (st *studio) extent(m piece, v view) image.Rectangle {
	box := outline{st: st, v: v, lamps: st.s.light.key}
	box.piece(m)
	return box.Rectangle
}

// piece takes in a piece, its shadow and its mirror image.
func (o *outline) piece(m piece) {
	sh := o.st.s.pieces.of[m.piece.Kind()]
	r, h := sh.base*0.62, sh.height
	if m.toppled {
		r = math.Hypot(h, sh.base)
	}
	for _, c := range corners {
		x, y := m.x+c[0]*r, m.y+c[1]*r
		o.add(vec{x, y, m.z})
		o.add(vec{x, y, m.z + h})
		o.add(vec{x, y, -m.z - h})
		o.shadow(vec{x, y, m.z + h})
	}
}

// corners of a square about the origin.
var corners = [4][2]float64{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}}

// reach is the part of the sheet that a hand or a shadow may touch.
func (st *studio) reach(e body, v view) image.Rectangle {
	box := outline{st: st, v: v, lamps: st.s.light.key}
	box.body(e)
	return box.Rectangle
}

// body takes in a hand, a thing or a shadow.
func (o *outline) body(e body) {
	for _, ball := range e.balls {
		for _, c := range corners {
			for _, u := range [2]float64{-1, 1} {
				p := vec{ball.at[0] + c[0]*ball.r, ball.at[1] + c[1]*ball.r, math.Max(0, ball.at[2]+u*ball.r)}
				if !e.unseen {
					o.add(p)
					o.add(vec{p[0], p[1], -p[2]})
				}
				o.shadow(p)
			}
		}
	}
}

// outline gathers what a part of the sheet must hold.
type outline struct {
	image.Rectangle
	st    *studio
	v     view
	lamps []lamp // whose shadows count
}

// add takes in a point, mm. What is at the eye's height or above fills the
// whole sheet.
func (o *outline) add(p vec) {
	c := o.v.pose.Apply(framePoint(p))
	const close = 60 // mm in front of the lens
	if c.Z < close {
		o.Rectangle = image.Rect(0, 0, o.st.sheet.w, o.st.sheet.h)
		return
	}
	x, y := o.st.sheet.at(c.X/c.Z, c.Y/c.Z)
	at := image.Pt(int(math.Floor(x)), int(math.Floor(y)))
	o.Rectangle = o.Union(image.Rectangle{at, at.Add(image.Pt(2, 2))})
}

// shadow takes in the shadows that all lamps throw of p, on the board and on
// the table.
func (o *outline) shadow(p vec) {
	for _, lamp := range o.lamps {
		for _, e := range corners {
			if p[2] >= 0.95*lamp.at[2] {
				o.Rectangle = image.Rect(0, 0, o.st.sheet.w, o.st.sheet.h)
				return
			}
			o.add(cast(p, lamp, e, 0))
			o.add(cast(p, lamp, e, -o.st.s.thick))
		}
	}
}

// cast is where a lamp's corner e throws the shadow of p at height z.
func cast(p vec, l lamp, e [2]float64, z float64) vec {
	from := vec{l.at[0] + e[0]*l.size/2, l.at[1] + e[1]*l.size/2, l.at[2]}
	t := (from[2] - z) / (from[2] - p[2])
	return vec{from[0] + (p[0]-from[0])*t, from[1] + (p[1]-from[1])*t, z}
}

// paste copies a part of one picture into another.
func (p picture) paste(from picture, r image.Rectangle) picture {
	out := picture{w: p.w, h: p.h, pix: slices.Clone(p.pix)}
	for y := r.Min.Y; y < r.Max.Y; y++ {
		i, j := (y*p.w+r.Min.X)*3, (y*p.w+r.Max.X)*3
		copy(out.pix[i:j], from.pix[i:j])
	}
	return out
}
