// SPDX-License-Identifier: Apache-2.0

package main

import (
	"fmt"
	"math"
	"strings"
)

// lamp is a light with an extent.
type lamp struct {
	at       vec     // mm, board frame
	size     float64 // mm across
	power    float64 // at the board's centre
	tint     rgb
	distance float64 // mm to the board's centre: falls off with the square
}

// lighting is the session's light: key lamps cast shadows, fill does not.
type lighting struct {
	name string
	key  []lamp
	fill float64 // power of the light that the room throws back
	tint rgb     // of the fill
	sky  float64 // brightness of the ceiling in reflections
}

// drawLight draws a room.
func drawLight(d dice) lighting {
	l := lighting{fill: d.in(0.25, 0.6), tint: d.near(rgb{0.95, 0.95, 0.95}, 0.03), sky: d.in(0.15, 0.6)}
	switch d.IntN(4) {
	case 0:
		l.name = "window"
		l.key = []lamp{drawLamp(d, [2]float64{25, 50}, [2]float64{1400, 2500}, [2]float64{400, 900})}
	case 1:
		l.name = "desk lamp"
		l.key = []lamp{drawLamp(d, [2]float64{40, 65}, [2]float64{650, 1000}, [2]float64{30, 110})}
	case 2:
		l.name = "ceiling"
		l.key = []lamp{drawLamp(d, [2]float64{60, 84}, [2]float64{1500, 2200}, [2]float64{200, 700})}
	default:
		l.name = "two lamps"
		l.key = []lamp{
			drawLamp(d, [2]float64{35, 60}, [2]float64{1200, 2200}, [2]float64{100, 400}),
			drawLamp(d, [2]float64{45, 75}, [2]float64{1200, 2200}, [2]float64{60, 300}),
		}
		l.key[1].power *= d.in(0.4, 0.9)
	}
	return l
}

// drawLamp draws a lamp between the given elevations (degrees), distances
// and sizes (mm).
func drawLamp(d dice, elevation, distance, size [2]float64) lamp {
	e, a := d.in(elevation[0], elevation[1])*math.Pi/180, d.in(0, 2*math.Pi)
	r := d.in(distance[0], distance[1])
	tint := one(d, rgb{1, 0.93, 0.83}, rgb{1, 0.97, 0.92}, rgb{0.93, 0.97, 1})
	return lamp{
		at:   vec{r * math.Cos(e) * math.Cos(a), r * math.Cos(e) * math.Sin(a), r * math.Sin(e)},
		size: d.in(size[0], size[1]), power: 0.8 / math.Max(0.55, math.Sin(e)), tint: tint, distance: r,
	}
}

// object is the povray text of the lights.
func (l lighting) object() string {
	var b strings.Builder
	for _, k := range l.key {
		b.WriteString(k.object("5,5 adaptive 1", 1))
	}
	return b.String() + l.room(1)
}

// object is the povray text of a lamp, its area cut as told.
func (k lamp) object(grid string, share float64) string {
	return fmt.Sprintf("light_source{<%.1f,%.1f,%.1f> color %s*%.3f area_light <%.1f,0,0>,<0,%.1f,0>,%s jitter circular orient fade_distance %.0f fade_power 2}\n",
		k.at[0], k.at[1], k.at[2], k.tint.linear(), k.power*share, k.size, k.size, grid, k.distance)
}

// room is the povray text of the fill and of what is mirrored.
func (l lighting) room(share float64) string {
	var b strings.Builder
	up := vec{-l.key[0].at[0] * 0.6, -l.key[0].at[1] * 0.6, 1500}
	fmt.Fprintf(&b, "light_source{<%.0f,%.0f,%.0f> color %s*%.3f shadowless}\n", up[0], up[1], up[2], l.tint.linear(), l.fill*0.5*share)
	fmt.Fprintf(&b, "light_source{<100,-200,2500> color %s*%.3f shadowless}\n", l.tint.linear(), l.fill*0.5*share)
	fmt.Fprintf(&b, "sky_sphere{pigment{gradient z color_map{[0 rgb %.3f][0.4 rgb %.3f][1 rgb %.3f]} scale 2 translate -z}}\n",
		l.sky*0.2*share, l.sky*0.5*share, l.sky*share)
	return b.String()
}

// shade is a person between the lamp and the board: an object that the
// camera does not see, only its shadow.
func (l lighting) shade(d dice, s *session) body {
	k := l.key[0]
	p := vec{d.in(-4, 4) * s.square, d.in(-4, 4) * s.square, 0}
	high := d.in(200, 0.75*k.at[2])
	t := high / k.at[2]
	var c, e vec
	for i := range 3 {
		c[i] = p[i] + (k.at[i]-p[i])*t
		e[i] = c[i]
	}
	r := d.in(50, 120) * (1 - t*0.7)
	out := d.in(0, 2*math.Pi)
	e[0] += 900 * math.Cos(out)
	e[1] += 900 * math.Sin(out)
	e[2] *= 0.9
	text := fmt.Sprintf("union{sphere{%s,%.1f} cone{%s,%.1f,%s,%.1f} no_image no_reflection pigment{rgb 0.3}}\n", c, r, c, r*0.7, e, r*2)
	return body{text: text, balls: []ball3{{c, r}, {e, 2 * r}}, unseen: true}
}
