// SPDX-License-Identifier: Apache-2.0

package main

import (
	"math"

	"boardhand/internal/chess"
)

// event is a picture beside those that show moves.
type event string

// playRoom takes about n pictures of a game, some 60 % of which show a move.
func (g *game) playRoom(n int) []shot {
	g.lit, g.wander = g.s.plain(), one(g.d, -1.0, 1.0)
	if g.s.room.kind == lampSwitched {
		g.planSwitches(n)
	}
	if g.s.room.kind == bothHands {
		g.dressAlike()
	}
	g.shoot("same", "start", g.settled())
	plies := int(math.Round(0.62 * float64(n)))
	events := g.planEvents(n, plies)
	for i := range plies {
		m := g.choose()
		if m == 0 {
			break
		}
		for _, e := range events[i] {
			g.happen(e, m)
		}
		g.settleRoom(m)
	}
	return g.shots
}

// planEvents draws before which moves hands, half-done and odd states, and
// repeated pictures are seen.
func (g *game) planEvents(n, plies int) [][]event {
	all := []event{"hand", "hand", "partial", "illegal", "same"}
	if g.s.room.kind == bothHands || g.s.room.kind == poorCamera {
		all = append(all, "hand")
	}
	for len(all) < n-1-plies {
		all = append(all, one[event](g.d, "same", "same", "hand", "partial", "illegal"))
	}
	out := make([][]event, plies)
	for _, e := range all {
		i := g.d.IntN(plies)
		out[i] = append(out[i], e)
	}
	return out
}

// happen takes the picture of an event before move m.
func (g *game) happen(e event, m chess.Move) {
	switch e {
	case "hand":
		g.handRoom(m)
	case "partial":
		g.partial(m)
	case "illegal":
		g.illegal()
	default:
		g.still()
	}
}

// still takes a picture in which nothing was played.
func (g *game) still() {
	if g.s.room.kind == bothHands {
		g.putThing()
		g.shoot("same", "thing", g.settled())
		return
	}
	switch x := g.d.Float64(); {
	case x < 0.5:
		g.shoot("same", "repeat", g.settled())
	case x < 0.75:
		g.nudge(chess.NoSquare)
		g.shoot("same", "nudge", g.settled())
	case x < 0.9:
		g.drift()
		g.shoot("same", "drift", g.settled())
	default:
		g.bump()
		g.shoot("same", "bump", g.settled())
	}
}

// handRoom takes a picture with a hand over the board, or with both players'.
func (g *game) handRoom(m chess.Move) {
	if g.s.room.kind == bothHands && g.d.chance(0.6) {
		at := g.at[m.From()]
		g.shoot("hand", "hand-both", g.settled(),
			g.hand(g.pos.SideToMove(), vec{at.x, at.y, g.top(at.piece)*0.75 + one(g.d, 0, g.d.in(3, 40))}),
			g.hand(1-g.pos.SideToMove(), g.restingPlace(g.pos.SideToMove().Other(), m, 0)))
		return
	}
	switch g.d.IntN(4) {
	case 0:
		g.reach("hand-edge", g.edge(m), g.settled())
	case 1:
		x, y := g.s.centre(m.From())
		g.reach("hand-hover", vec{x, y, g.top(g.pos.At(m.From())) + g.d.in(3, 25)}, g.settled())
	case 2:
		at := g.at[m.From()]
		g.reach("hand-take", vec{at.x, at.y, g.top(at.piece) * 0.75}, g.settled())
	default:
		g.carry(m)
	}
}

// settleRoom makes the move and takes the picture that shows it.
func (g *game) settleRoom(m chess.Move) {
	kind := g.moveKind(m)
	g.apply(m)
	var extra []body
	more := ""
	switch x := g.d.Float64(); {
	case x < 0.06:
		g.nudge(m.To())
		more = "+nudge"
	case x < 0.075:
		g.bump()
		more = "+bump"
	case x < 0.13 && g.s.room.kind != poorCamera:
		g.drift()
		more = "+drift"
	}
	if g.s.room.kind == bothHands {
		switch x := g.d.Float64(); {
		case x < 0.35:
			extra, more = []body{g.restingHand(m)}, more+"+hand"
		case x < 0.5:
			g.putThing()
			more += "+thing"
		}
	}
	g.shoot("move", kind+more, g.settled(), extra...)
	g.shots[len(g.shots)-1].truth.Move = m.String()
}
