// SPDX-License-Identifier: Apache-2.0

package main

import (
	"fmt"
	"math"
	"slices"
)

// drawProps puts up to two other things on the table.
func drawProps(d dice, s session) string {
	out := ""
	half := 4*s.square + s.border
	for range d.IntN(3) {
		a := d.in(0, 2*math.Pi)
		r := half/math.Max(math.Abs(math.Cos(a)), math.Abs(math.Sin(a))) + d.in(80, 150)
		x, y := r*math.Cos(a), r*math.Sin(a)
		c := thingColour(d)
		out += fmt.Sprintf("union{%s rotate z*%.0f translate <%.1f,%.1f,%.2f>}\n", thing(d, c), d.in(0, 360), x, y, -s.thick)
	}
	return out
}

// thing is a cup, a pencil, a book or a telephone.
func thing(d dice, c rgb) string { return thingOf(d.IntN(4), c) }

// thingOf is a cup, 0, a pencil, 1, a book, 2, or a telephone, 3.
func thingOf(kind int, c rgb) string {
	fin := "finish{ambient 0 diffuse 0.8 specular 0.3 roughness 0.02}"
	switch kind {
	case 0:
		return fmt.Sprintf("difference{cylinder{0,z*85,38}cylinder{z*4,z*86,35}pigment{%s}%s} cylinder{z*3,z*62,35 pigment{srgb <0.16,0.09,0.05>}%s} torus{24,5 rotate z*0 rotate x*90 rotate x*90 translate <38,0,45> pigment{%s}%s}", c, fin, fin, c, fin)
	case 1:
		return fmt.Sprintf("cylinder{<-80,0,4><70,0,4>,4 pigment{%s}%s} cone{<70,0,4>,4,<88,0,4>,0.5 pigment{srgb <0.8,0.65,0.45>}%s}", c, fin, fin)
	case 2:
		return fmt.Sprintf("box{<-35,-70,0><35,70,%.0f> pigment{%s}%s} box{<-34,-69,1><36,69,%.0f> pigment{srgb <0.9,0.88,0.8>}%s}", 18.0, c, fin, 16.0, fin)
	}
	return fmt.Sprintf("box{<-36,-74,0><36,74,8> pigment{srgb <0.05,0.05,0.06>} finish{ambient 0 diffuse 0.6 specular 0.5 roughness 0.01}} box{<-37,-75,0><37,75,7.4> pigment{%s}%s}", c, fin)
}

// drawClutter puts many things on the table, close to the board and apart from
// each other.
func drawClutter(d dice, s session) string {
	out := ""
	half := 4*s.square + s.border
	reach := [4]float64{72, 90, 80, 84} // mm from each thing's middle
	var taken []vec
	for range 200 {
		kind := d.IntN(4)
		p := vec{d.in(-1, 1) * (half + 330), d.in(-1, 1) * (half + 200), reach[kind]}
		isNear := slices.ContainsFunc(taken, func(o vec) bool { return math.Hypot(o[0]-p[0], o[1]-p[1]) < o[2]+p[2] })
		if isNear || math.Max(math.Abs(p[0]), math.Abs(p[1])) < half+p[2] {
			continue
		}
		taken = append(taken, p)
		out += fmt.Sprintf("union{%s rotate z*%.0f translate <%.1f,%.1f,%.2f>}\n", thingOf(kind, thingColour(d)), d.in(0, 360), p[0], p[1], -s.thick)
	}
	return out
}

// thingColour draws a colour as things on a table have.
func thingColour(d dice) rgb {
	return d.near(one(d, rgb{0.85, 0.85, 0.83}, rgb{0.2, 0.3, 0.5}, rgb{0.6, 0.15, 0.1}, rgb{0.12, 0.12, 0.13}, rgb{0.8, 0.65, 0.2}), 0.1)
}
