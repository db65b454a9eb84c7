// SPDX-License-Identifier: Apache-2.0

package main

import (
	"math"
	"strconv"
	"strings"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
)

// The sets of sessions in which several conditions are at their limits at once.
const (
	limitTune  = "limt"
	limitValid = "limv"
)

// limits is what a session of these sets has beyond other sessions; nil for other sets.
type limits struct{ number int }

// limitsOf is what a session's name asks for.
func limitsOf(name string) *limits {
	for _, set := range []string{limitTune, limitValid} {
		if number, ok := strings.CutPrefix(name, set); ok {
			if n, err := strconv.Atoi(number); err == nil && n > 0 {
				return &limits{n}
			}
		}
	}
	return nil
}

// isClose says whether the camera hangs as low as it may, over tall pieces: every other session.
func (l *limits) isClose() bool { return l.number%2 == 1 }

// isAskew says whether the board lies 10 to 20 degrees askew: two sessions in three.
func (l *limits) isAskew() bool { return l.number%3 != 0 }

// drawCamera draws a lens with the most distortion there is, tilted as far as it may be,
// with White on each side of the picture in turn.
func (l *limits) drawCamera(d dice, s *session) {
	s.drawCamera(d)
	v := &s.view
	v.k1, v.k2 = -d.in(0.22, 0.25), d.in(0.01, 0.03)
	h := d.in(500, 700)
	if l.isClose() {
		h = d.in(450, 470)
	}
	s.side = [4]string{"left", "bottom", "right", "top"}[l.number%4]
	askew := 0.0
	if l.isAskew() {
		askew = one(d, -1.0, 1.0) * d.in(10, 20)
	}
	v.pose = hang(d, quarters(s.side)+askew*math.Pi/180, d.in(3, 4)*math.Pi/180, h)
	s.height = math.Round(h * (1 + d.in(-0.03, 0.03)))
}

// drawPieces makes the pieces as tall as they may be where the camera hangs low.
func (l *limits) drawPieces(d dice, m *piecesSet, square float64) {
	if !l.isClose() {
		return
	}
	stretch := d.in(1.75, 1.9) * square / m.of[chess.King].height
	for _, k := range kinds { // shares of the height stay, so the outlines do
		sh := m.of[k]
		sh.height = math.Round(sh.height*stretch*2) / 2
		sh.trim = trim(d, k, sh, sh.rings)
		m.of[k] = sh
	}
}

// drawBoard draws wood of which the dark squares are nearly as light as the light ones.
func (l *limits) drawBoard(d dice) boardLook {
	b := drawBoard(d)
	for b.grain == 0 {
		b = drawBoard(d)
	}
	for i := range b.dark {
		b.dark[i] = b.light[i] + (b.dark[i]-b.light[i])*d.in(0.42, 0.55)
	}
	b.name = "pale " + b.name
	return b
}

// playLimits takes about n pictures: every move comes with a change of exposure, a piece
// pushed or somebody's shadow, some with all three; once, in mid-game, the camera is knocked
// out of its place, in every other session between a move and its picture.
func (g *game) playLimits(n int) []shot {
	g.shoot("same", "start", g.settled())
	knocked := false
	for len(g.shots) < n {
		m := g.choose()
		if m == 0 {
			break
		}
		g.before(m)
		more := ""
		if !knocked && len(g.shots) >= n/2 {
			knocked, more = true, "+bump"
			g.knock()
			if g.s.limits.number%4 < 2 {
				g.shoot("same", "bump", g.settled())
				more = ""
			}
		}
		g.settleDisturbed(m, more)
		g.after()
	}
	return g.shots
}

// settleDisturbed makes the move and takes the picture that shows it, and what else happened.
func (g *game) settleDisturbed(m chess.Move, more string) {
	kind := g.moveKind(m)
	g.apply(m)
	var extra []body
	if g.d.chance(0.4) {
		g.nudge(m.To())
		more += "+nudge"
	}
	if g.d.chance(0.5) {
		g.drift()
		more += "+drift"
	}
	if g.d.chance(0.3) {
		extra, more = []body{g.s.light.shade(g.d, g.s)}, more+"+shadow"
	}
	g.shoot("move", kind+more, g.settled(), extra...)
	g.shots[len(g.shots)-1].truth.Move = m.String()
}

// knock moves the camera by 2 to 5 mm and turns it by a third to two thirds of a degree,
// any way in which it still sees the board.
func (g *game) knock() {
	from := g.view
	for range 200 {
		u := vec{g.d.NormFloat64(), g.d.NormFloat64(), g.d.NormFloat64()}.unit()
		turn := g.d.in(0.33, 0.67) * math.Pi / 180
		eye := from.eye()
		a, by := g.d.in(0, 2*math.Pi), g.d.in(2, 5)
		eye.X += by * math.Cos(a)
		eye.Y += by * math.Sin(a)
		g.view.pose = poseFrom(frame.FromVector([3]float64{turn * u[0], turn * u[1], turn * u[2]}).Mul(from.pose.R), eye)
		s := *g.s
		if s.view = g.view; s.lensSees() {
			return
		}
	}
	g.view = from
}
