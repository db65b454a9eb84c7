// SPDX-License-Identifier: Apache-2.0

package main

import (
	"fmt"
	"strings"
)

// finish is how a side's pieces look.
type finish struct {
	name   string
	colour rgb
	gloss  float64 // 0 matt to 1 lacquered
	grain  bool
}

// drawFinishes draws the two sides' materials.
func drawFinishes(d dice) (white, black finish) {
	box, ebony := rgb{0.83, 0.67, 0.42}, rgb{0.11, 0.085, 0.075}
	gloss := d.in(0.05, 0.9)
	switch d.IntN(5) {
	case 0, 1:
		return finish{"boxwood", d.near(box, 0.07), gloss, true}, finish{"ebony", d.near(ebony, 0.2), gloss, true}
	case 2:
		return finish{"white plastic", d.near(rgb{0.9, 0.88, 0.82}, 0.04), gloss, false}, finish{"black plastic", d.near(rgb{0.07, 0.07, 0.075}, 0.2), gloss, false}
	case 3:
		return finish{"white", d.near(rgb{0.9, 0.86, 0.76}, 0.05), gloss, false}, finish{"red", d.near(rgb{0.55, 0.09, 0.07}, 0.12), gloss, false}
	}
	return finish{"natural", d.near(rgb{0.78, 0.58, 0.36}, 0.07), gloss, true}, finish{"dark brown", d.near(rgb{0.3, 0.16, 0.09}, 0.12), gloss, true}
}

// texture is the povray text of a side's pieces.
func (f finish) texture(name string) string {
	pig := fmt.Sprintf("pigment{color %s}", f.colour)
	if f.grain {
		pig = woodPigment(f.colour, 0.16, 1.6, "rotate x*4")
	}
	return fmt.Sprintf("#declare %s = texture{%s finish{ambient 0 diffuse 0.85 specular %.3f roughness %.4f}}\n",
		name, pig, 0.05+0.55*f.gloss, 0.09-0.075*f.gloss)
}

// String is the colour in povray's sRGB notation.
func (c rgb) String() string { return fmt.Sprintf("srgb <%.4f,%.4f,%.4f>", c[0], c[1], c[2]) }

// woodPigment is streaked wood along y, rings about `ring` mm apart,
// varying by the given share.
func woodPigment(c rgb, vary, ring float64, place string) string {
	return fmt.Sprintf("pigment{wood turbulence 0.06 octaves 3 omega 0.6 scale <%.2f,%.2f,%.1f> color_map{[0 %s][0.35 %s][0.6 %s][0.85 %s][1 %s]} rotate x*89 %s}",
		ring, ring, ring*30, c.times(1+vary*0.4), c.times(1+vary*0.2), c, c.times(1-vary), c.times(1-vary*0.4), place)
}

// boardLook is how the board and the table look.
type boardLook struct {
	name                string
	light, dark, border rgb
	grain               float64 // 0: painted or printed
	ring                float64 // mm between rings
	gloss               float64 // 0 matt, to 1 polished
	line                float64 // mm, dark line round the field, 0: none
	letters             bool
	table               rgb
	tableKind           string // "plain", "wood", "cloth"
}

// drawBoard draws materials.
func drawBoard(d dice) boardLook {
	b := one(d,
		boardLook{name: "maple and walnut", light: rgb{0.86, 0.74, 0.56}, dark: rgb{0.42, 0.27, 0.18}, border: rgb{0.42, 0.27, 0.18}, grain: 0.14},
		boardLook{name: "beech and walnut", light: rgb{0.78, 0.61, 0.43}, dark: rgb{0.40, 0.27, 0.19}, border: rgb{0.50, 0.33, 0.2}, grain: 0.12},
		boardLook{name: "beech and oak", light: rgb{0.78, 0.62, 0.44}, dark: rgb{0.58, 0.42, 0.27}, border: rgb{0.66, 0.5, 0.34}, grain: 0.13},
		boardLook{name: "birch and mahogany", light: rgb{0.84, 0.74, 0.58}, dark: rgb{0.45, 0.23, 0.15}, border: rgb{0.45, 0.23, 0.15}, grain: 0.1},
		boardLook{name: "ash and cherry", light: rgb{0.82, 0.72, 0.56}, dark: rgb{0.60, 0.36, 0.22}, border: rgb{0.6, 0.36, 0.22}, grain: 0.2},
		boardLook{name: "painted", light: rgb{0.92, 0.91, 0.86}, dark: rgb{0.16, 0.17, 0.18}, border: rgb{0.3, 0.3, 0.31}},
		boardLook{name: "printed green", light: rgb{0.93, 0.92, 0.84}, dark: rgb{0.38, 0.52, 0.34}, border: rgb{0.93, 0.92, 0.84}},
		boardLook{name: "printed brown", light: rgb{0.91, 0.82, 0.67}, dark: rgb{0.62, 0.43, 0.29}, border: rgb{0.9, 0.88, 0.84}},
		boardLook{name: "printed grey", light: rgb{0.9, 0.9, 0.9}, dark: rgb{0.52, 0.54, 0.58}, border: rgb{0.95, 0.95, 0.95}},
		boardLook{name: "burnt on plywood", light: rgb{0.80, 0.66, 0.47}, dark: rgb{0.36, 0.22, 0.13}, border: rgb{0.80, 0.66, 0.47}, grain: 0.1},
	)
	b.light, b.dark, b.border = d.near(b.light, 0.05), d.near(b.dark, 0.08), d.near(b.border, 0.1)
	b.ring = d.in(1.2, 4)
	b.gloss = one(d, 0, 0, 0.15, 0.35, 0.7, 1)
	b.letters = d.chance(0.4)
	if d.chance(0.5) {
		b.line = d.in(0.4, 1.5)
	}
	b.tableKind = one(d, "plain", "wood", "wood", "cloth")
	b.table = d.near(b.tableColour(d), 0.1)
	return b
}

// tableColour draws wood for a wooden table, anything for another.
func (b boardLook) tableColour(d dice) rgb {
	if b.tableKind == "wood" {
		return one(d, rgb{0.62, 0.46, 0.3}, rgb{0.33, 0.23, 0.16}, rgb{0.75, 0.6, 0.42}, rgb{0.5, 0.33, 0.2})
	}
	return one(d, rgb{0.62, 0.46, 0.3}, rgb{0.85, 0.84, 0.81}, rgb{0.25, 0.2, 0.17}, rgb{0.4, 0.42, 0.45}, rgb{0.45, 0.2, 0.18}, rgb{0.2, 0.3, 0.25}, rgb{0.75, 0.68, 0.55})
}

// object is the povray text of the board and the table.
func (b boardLook) object(d dice, s *session) string {
	var w strings.Builder
	fin := fmt.Sprintf("finish{ambient 0 diffuse 0.85 specular %.3f roughness %.4f}", 0.04+0.25*b.gloss, 0.06-0.045*b.gloss)
	if b.gloss > 0.3 {
		fin = fmt.Sprintf("finish{ambient 0 diffuse 0.8 specular %.3f roughness 0.008 reflection{0.01,%.2f fresnel on}} ", 0.3*b.gloss, 0.7*b.gloss)
	}
	for i := range 64 {
		c := b.dark
		if (i/8+i%8)%2 == 1 {
			c = b.light
		}
		x, y := (float64(i%8)-4)*s.square, (float64(i/8)-4)*s.square
		fmt.Fprintf(&w, "box{<%.3f,%.3f,-3><%.3f,%.3f,0> texture{%s %s} interior{ior 1.5}}\n",
			x, y, x+s.square, y+s.square, b.pigment(d, c), fin)
	}
	half := 4*s.square + s.border
	fmt.Fprintf(&w, "box{<%.3f,%.3f,%.2f><%.3f,%.3f,-0.02> texture{%s %s} interior{ior 1.5}}\n",
		-half, -half, -s.thick, half, half, b.pigment(d, b.border), fin)
	if b.line > 0 {
		e := 4*s.square + b.line
		fmt.Fprintf(&w, "box{<%.3f,%.3f,-2><%.3f,%.3f,-0.01> texture{pigment{%s} finish{ambient 0 diffuse 0.8}}}\n", -e, -e, e, e, b.dark.times(0.5))
	}
	if b.letters && s.border > 8 {
		b.write(&w, s)
	}
	w.WriteString(b.tableObject(d, s))
	return w.String()
}

// pigment is one square's colour: every square is cut from another board.
func (b boardLook) pigment(d dice, c rgb) string {
	if b.grain == 0 {
		return fmt.Sprintf("pigment{%s}", c)
	}
	place := fmt.Sprintf("rotate z*%.1f translate <%.0f,%.0f,%.1f>", d.in(-3, 3), d.in(-300, 300), d.in(-900, 900), d.in(-40, 40))
	return woodPigment(c.times(1+d.bell(0.04, 0.08)), b.grain, b.ring, place)
}

// write puts letters and figures on the border.
func (b boardLook) write(w *strings.Builder, s *session) {
	size := s.border * 0.55
	at := 4*s.square + s.border/2
	put := func(t string, x, y float64) {
		fmt.Fprintf(w, "text{ttf \"cyrvetic.ttf\" \"%s\" 0.01,0 scale <%.2f,%.2f,1> translate <%.2f,%.2f,0.0> pigment{%s}}\n",
			t, size, size, x-size*0.25, y-size*0.3, b.letterColour())
	}
	for i := range 8 {
		c := (float64(i) - 3.5) * s.square
		put(string(rune('a'+i)), c, -at)
		put(string(rune('1'+i)), -at, c)
	}
}

// letterColour contrasts with the border.
func (b boardLook) letterColour() rgb {
	if b.border[1] > 0.5 {
		return rgb{0.12, 0.1, 0.1}
	}
	return rgb{0.85, 0.78, 0.6}
}

// tableObject is what the board stands on.
func (b boardLook) tableObject(d dice, s *session) string {
	pig := fmt.Sprintf("pigment{%s}", b.table)
	switch b.tableKind {
	case "wood":
		pig = woodPigment(b.table, 0.14, d.in(5, 14), fmt.Sprintf("rotate z*%.0f translate <%.0f,%.0f,0>", d.in(0, 180), d.in(-200, 200), d.in(-200, 200)))
	case "cloth":
		pig = fmt.Sprintf("pigment{checker %s %s scale %.1f rotate z*%.0f}", b.table.times(0.88), b.table.times(1.08), d.in(1.5, 3), d.in(0, 90))
	}
	return fmt.Sprintf("plane{z,%.2f texture{%s finish{ambient 0 diffuse 0.8 specular 0.05 roughness 0.05}}}\n", -s.thick, pig)
}
