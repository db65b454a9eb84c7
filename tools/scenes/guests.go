// SPDX-License-Identifier: Apache-2.0

package main

import (
	"fmt"
	"math"
	"slices"

	"boardhand/internal/chess"
)

// hand is the arm of one side with its finger tips at a place.
func (g *game) hand(side chess.Color, tip vec) body {
	p := pose{tip: tip, turn: g.d.bell(0.25, 0.6), away: side == chess.Black, grip: g.d.in(3, 7), raise: g.d.in(40, 75)}
	return g.arms[side].object(g.d, p)
}

// dressAlike gives players sleeves in the board's own colours.
func (g *game) dressAlike() {
	for i := range g.arms {
		if !g.d.chance(0.7) {
			continue
		}
		b := g.s.board
		pig := fmt.Sprintf("pigment{checker %s %s scale %.1f rotate <20,30,40>}", b.light, b.dark, g.s.square*g.d.in(0.4, 1))
		if g.d.chance(0.4) {
			pig = fmt.Sprintf("pigment{%s}", one(g.d, b.light, b.dark))
		}
		g.arms[i].sleeve = fmt.Sprintf("texture{%s normal{wrinkles 0.9 scale %.0f} finish{ambient 0 diffuse 0.75}}", pig, g.d.in(12, 30))
	}
}

// restingPlace is where a side's fingers lie on its edge of the board, away
// from the squares of a move; by how many squares they reach in.
func (g *game) restingPlace(side chess.Color, m chess.Move, in float64) vec {
	y := -(4*g.s.square + g.s.border*0.4) + in*g.s.square
	if side == chess.Black {
		y = -y
	}
	x, best := 0.0, -1.0
	for range 12 {
		a := g.d.in(-4, 4) * g.s.square
		away := math.Inf(1)
		for _, q := range []chess.Square{m.From(), m.To()} {
			u, v := g.s.centre(q)
			away = math.Min(away, math.Hypot(u-a, (v-y)*0.6))
		}
		if away > best {
			x, best = a, away
		}
	}
	return vec{x, y, 9}
}

// restingHand is a hand that stays on the board's edge beside a finished move.
func (g *game) restingHand(m chess.Move) body {
	side := one(g.d, chess.White, chess.Black)
	tip := g.restingPlace(side, m, 0)
	p := pose{tip: tip, turn: g.d.bell(0.15, 0.4), away: side == chess.Black, grip: g.d.in(8, 16), raise: g.d.in(15, 40)}
	return g.arms[side].object(g.d, p)
}

// putThing puts a cup or a telephone on the border, its outer part over the
// table, or takes it away again; on a side where no hand comes from.
func (g *game) putThing() {
	if len(g.things) > 0 && g.d.chance(0.45) {
		g.things = nil
		return
	}
	what, turn, reach := 0, 0, 40.0
	if g.d.chance(0.5) {
		what, turn, reach = 3, 90, 39 // a telephone lies along the edge
	}
	away := 4*g.s.square + 2 + reach
	colour := thingColour(g.d)
	for range 20 {
		along, side := g.d.in(-0.8, 0.8)*4*g.s.square, one(g.d, 1.0, -1.0)
		at := vec{side * away, along, 40}
		if slices.ContainsFunc(g.beside, func(m piece) bool { return math.Hypot(m.x-at[0], m.y-at[1]) < 100 }) {
			continue
		}
		text := fmt.Sprintf("union{%s rotate z*%d translate <%.1f,%.1f,0>}\n", thingOf(what, colour), 90-turn, at[0], at[1])
		g.things = []body{{text: text, balls: []ball3{{at, 90}}}}
		return
	}
}
