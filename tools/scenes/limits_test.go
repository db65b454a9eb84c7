// SPDX-License-Identifier: Apache-2.0

package main

import (
	"fmt"
	"math"
	"testing"

	"boardhand/internal/chess"
)

// TestLimits plans sessions in which several conditions are at their limits at once: lens, tilt,
// height and turn are those that the README tells, the camera is knocked once by as much as is told
// there and still sees the board, and the settled pictures show what the truth says.
func TestLimits(t *testing.T) {
	alone, sides := 0, map[string]bool{}
	for n := 1; n <= 12; n++ {
		name := fmt.Sprintf("limt%02d", n)
		s, shots, err := planSession(diceFor(name), options{}, name)
		if err != nil {
			t.Fatal(err)
		}
		sides[s.side] = true
		v := s.view
		tilt := math.Acos(-v.pose.R[2][2]) * 180 / math.Pi
		turn := math.Abs(math.Mod(math.Atan2(v.pose.R[1][0], v.pose.R[0][0])*180/math.Pi+360+45, 90) - 45)
		if v.k1 < -0.25 || v.k1 > -0.22 || tilt < 2.9 || tilt > 4.1 {
			t.Errorf("%s: k1 %.3f, tilt %.2f degrees", name, v.k1, tilt)
		}
		if isAskew := turn > 9.5 && turn < 20.5; isAskew != s.limits.isAskew() || !isAskew && turn > 0.5 {
			t.Errorf("%s: %.1f degrees askew", name, turn)
		}
		if h := v.eye().Z; h < 450 || h > 700 || s.limits.isClose() != (h <= 470) {
			t.Errorf("%s: %.0f mm high", name, h)
		}
		pos, err := chess.ParseFEN(s.start)
		if err != nil {
			t.Fatal(err)
		}
		for k, sh := range shots {
			if k > 0 && sh.view != shots[k-1].view && sh.truth.Kind == "bump" {
				alone++
			}
			if sh.truth.State == "move" {
				m, err := pos.ParseUCI(sh.truth.Move)
				if err != nil {
					t.Fatalf("%s %s: %v", name, sh.truth.Frame, err)
				}
				pos = pos.After(m)
			}
			if is := sh.truth.State; (is == "move" || is == "same") && !shows(pos, standing(s, sh.pieces)) {
				t.Errorf("%s %s %s does not show %s", name, sh.truth.Frame, sh.truth.Kind, pos.FEN())
			}
		}
	}
	if len(sides) != 4 || alone < 3 {
		t.Errorf("White sits on %d sides; %d pictures show nothing but that the camera was knocked", len(sides), alone)
	}
}

// TestKnock: the camera goes 2 to 5 mm, turns by a third to two thirds of a degree, and still sees
// the board.
func TestKnock(t *testing.T) {
	for n := 1; n <= 6; n++ {
		name := fmt.Sprintf("limt%02d", n)
		d := diceFor(name)
		s, err := newSession(d, name)
		if err != nil {
			t.Fatal(err)
		}
		g, err := newGame(d, &s)
		if err != nil {
			t.Fatal(err)
		}
		from := g.view
		g.knock()
		a, b := from.eye(), g.view.eye()
		by := math.Hypot(b.X-a.X, b.Y-a.Y)
		r := g.view.pose.R.Mul(from.pose.R.Transpose())
		turn := math.Acos((r[0][0]+r[1][1]+r[2][2]-1)/2) * 180 / math.Pi
		if by < 1.99 || by > 5.01 || math.Abs(b.Z-a.Z) > 1e-6 || turn < 0.32 || turn > 0.68 {
			t.Errorf("%s: %.2f mm and %.2f degrees", name, by, turn)
		}
		if s.view = g.view; !s.lensSees() {
			t.Errorf("%s: the camera does not see the board any more", name)
		}
	}
}
