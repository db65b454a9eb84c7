// SPDX-License-Identifier: Apache-2.0

package main

import (
	"fmt"
	"math"
	"slices"
)

// illumination is the light of a room in one picture.
type illumination struct {
	lamps  []float64  // share of each key lamp's power, 0: off
	fill   float64    // share of the fill
	people []capsule  // between lamps and board, out of the camera's sight
	shift  [2]float64 // mm that the sun has moved the window's bars
	panes  []pane     // bright panes that the board mirrors
	smear  [2]float64 // pixels of motion
	isHand bool       // only what the hand covers is smeared
}

// drawRoomLight draws lamps as the room's kind wants them.
func (s *session) drawRoomLight(d dice) {
	l := lighting{fill: d.in(0.25, 0.6), tint: d.near(rgb{0.95, 0.95, 0.95}, 0.03), sky: d.in(0.15, 0.6)}
	switch s.room.kind {
	case lowLamp:
		l.name = "low lamp in a dark room"
		l.fill, l.sky = d.in(0.06, 0.2), d.in(0.02, 0.1)
		l.key = []lamp{lowered(drawLamp(d, [2]float64{12, 30}, [2]float64{800, 1500}, [2]float64{70, 220}))}
	case lampSwitched:
		l = s.drawSwitched(d, l)
	case movingGlare:
		l.name = "bright panes over a polished board"
		l.key = []lamp{drawLamp(d, [2]float64{62, 80}, [2]float64{1500, 2300}, [2]float64{250, 600})}
		s.room.mirror = drawMirror(d)
	case sunBars:
		l = s.drawSun(d, l)
	default:
		l = drawLight(d)
	}
	s.light = l
}

// lowered gives a lamp the power that a low one needs to light the board.
func lowered(l lamp) lamp {
	l.power = 0.75 / math.Max(0.3, l.at[2]/l.distance)
	return l
}

// drawSwitched draws two lamps, or a lamp and daylight.
func (s *session) drawSwitched(d dice, l lighting) lighting {
	l.fill = d.in(0.12, 0.4)
	if d.chance(0.5) {
		l.name = "two lamps, switched"
		l.key = []lamp{
			drawLamp(d, [2]float64{35, 65}, [2]float64{1000, 2000}, [2]float64{60, 300}),
			lowered(drawLamp(d, [2]float64{25, 60}, [2]float64{700, 1500}, [2]float64{40, 200})),
		}
	} else {
		l.name = "daylight and a switched lamp"
		l.key = []lamp{
			drawLamp(d, [2]float64{30, 50}, [2]float64{1500, 2400}, [2]float64{500, 900}),
			lowered(drawLamp(d, [2]float64{25, 60}, [2]float64{600, 1200}, [2]float64{40, 160})),
		}
		l.key[0].tint, l.key[1].tint = rgb{0.92, 0.97, 1}, rgb{1, 0.9, 0.76}
	}
	l.key[0].power *= d.in(0.3, 0.8)
	l.key[1].power *= d.in(0.8, 1.4)
	return l
}

// drawSun draws the sun behind a window, and the sky in it.
func (s *session) drawSun(d dice, l lighting) lighting {
	const far, across = 6000, 0.0093 // mm; the sun's disc, radians
	l.name = "sun through a window"
	l.fill = d.in(0.1, 0.25)
	sun := drawLamp(d, [2]float64{24, 50}, [2]float64{far, far}, [2]float64{far * across, far * across})
	sun.power, sun.tint = d.in(0.8, 1.3)/(sun.at[2]/far), rgb{1, 0.96, 0.88}
	s.room.window = drawWindow(d, sun)
	sky := lamp{at: s.room.window.middle, size: d.in(600, 900), power: d.in(0.15, 0.35), tint: rgb{0.9, 0.96, 1}}
	sky.distance = math.Sqrt(sky.at.dot(sky.at))
	sky.power /= math.Max(0.4, sky.at[2]/sky.distance)
	l.key = []lamp{sun, sky}
	return l
}

// plain is the light in which nothing has been changed.
func (s *session) plain() illumination {
	l := illumination{fill: 1}
	for range s.light.key {
		l.lamps = append(l.lamps, 1)
	}
	return l
}

// changeLight draws the room's light for the next picture; it returns what
// is added to the picture's kind.
func (g *game) changeLight(state string) string {
	g.lit.lamps = slices.Clone(g.lit.lamps)
	g.lit.people, g.lit.smear, g.lit.isHand = nil, [2]float64{}, false
	switch g.s.room.kind {
	case lowLamp:
		return g.shadeBoard(0.5, [2]float64{0.3, 0.9})
	case lampSwitched:
		return g.switchLamp() + g.shadeBoard(0.1, [2]float64{0.15, 0.5})
	case movingGlare:
		return g.moveGlare() + g.shadeBoard(0.1, [2]float64{0.1, 0.4})
	case sunBars:
		return g.moveSun() + g.shadeBoard(0.1, [2]float64{0.1, 0.5})
	case poorCamera:
		return g.hunt(state)
	}
	return ""
}

// shadeBoard has people lean in before the first lamp, now and then.
func (g *game) shadeBoard(chance float64, share [2]float64) string {
	if !g.d.chance(chance) || g.lit.lamps[0] == 0 {
		return ""
	}
	g.lit.people = g.s.leanIn(g.d, g.s.light.key[0], g.d.in(share[0], share[1]))
	if g.lit.people == nil {
		return ""
	}
	return "+shadow"
}

// planSwitches draws before which of n pictures a lamp is switched.
func (g *game) planSwitches(n int) {
	for range 1 + g.d.IntN(3) {
		g.switches = append(g.switches, 2+g.d.IntN(max(1, n-3)))
	}
}

// switchLamp switches a lamp where that was planned: the second one mostly;
// one stays on.
func (g *game) switchLamp() string {
	if !slices.Contains(g.switches, len(g.shots)) {
		return ""
	}
	i, more := 1, "+lamp-off"
	if g.s.light.name == "two lamps, switched" && g.lit.lamps[1] > 0 && g.d.chance(0.35) {
		i = 0
	}
	if g.lit.lamps[0] == 0 {
		i = 0
	}
	if g.lit.lamps[i] = 1 - g.lit.lamps[i]; g.lit.lamps[i] > 0 {
		more = "+lamp-on"
	}
	g.lit.fill = 0.35 + 0.65*g.s.powerOn(g.lit.lamps)
	return more
}

// powerOn is which share of all lamps' light on the board is on.
func (s *session) powerOn(share []float64) float64 {
	on, all := 0.0, 0.0
	for i, k := range s.light.key {
		p := k.power * k.at[2] / k.distance
		on, all = on+p*share[i], all+p
	}
	return on / all
}

// moveSun lets the bars wander, and clouds come and go.
func (g *game) moveSun() string {
	g.lit.shift[0] += g.wander * g.d.in(3, 15)
	g.lit.shift[1] += g.wander * g.d.in(-2, 6)
	switch covered := g.lit.lamps[0] < 1; {
	case covered && g.d.chance(0.45):
		g.lit.lamps[0] = 1
	case covered || g.d.chance(0.18):
		g.lit.lamps[0] = one(g.d, 0, 0, g.d.in(0.02, 0.15), g.d.in(0.15, 0.5))
	}
	g.lit.lamps[1] = 1 + 0.4*(1-g.lit.lamps[0])*g.d.Float64()
	if g.lit.lamps[0] < 1 {
		return "+cloud"
	}
	return ""
}

// hunt lets a poor camera's exposure and white balance wander, and smears some
// pictures.
func (g *game) hunt(state string) string {
	g.gain = math.Max(0.6, math.Min(1.55, 1+(g.gain-1)*0.6+g.d.bell(0.13, 0.3)))
	for i := range g.white {
		g.white[i] = 1 + (g.white[i]-1)*0.6 + g.d.bell(0.035, 0.08)
	}
	chance := map[string]float64{"hand": 0.7}[state] + 0.12
	if !g.d.chance(chance) {
		return ""
	}
	a, far := g.d.in(0, 2*math.Pi), g.d.in(2, 6)
	if g.lit.isHand = state == "hand" && g.d.chance(0.75); g.lit.isHand {
		far *= 3
	}
	g.lit.smear = [2]float64{far * math.Cos(a), far * math.Sin(a)}
	return "+smear"
}

// about tells a room's kind for camera.json.
func (r *room) about() string {
	if r == nil {
		return ""
	}
	return fmt.Sprintf("room: %s; ", r.kind)
}
