// SPDX-License-Identifier: Apache-2.0

package carry

import (
	"fmt"
	"strings"

	"boardhand/internal/carry/plan"
	"boardhand/internal/game"
)

func (d *builder) ask(piece game.Piece, from, to game.Square, text string) {
	d.add(plan.Step{Do: plan.Ask, Piece: piece, From: from, To: to, Text: text})
	d.asks++
}

// askMove has a person move piece i; why continues the sentence.
func (d *builder) askMove(i int, to target, why string) {
	m := d.pieces[i]
	text := fmt.Sprintf("Please move the %s from %v to %v%s.", d.p.kinds.NameOf(m.Piece), m.Square, to.square, why)
	if m.Square >= game.NoSquare { // it stands astray
		text = fmt.Sprintf("Please put the %s on %v%s.", d.p.kinds.NameOf(m.Piece), to.square, why)
	}
	d.ask(m.Piece, m.Square, to.square, text)
	d.pieces[i].At, d.pieces[i].Square, d.pieces[i].Sigma = to.at, to.square, game.HandSigma
}

// askOff has a person take piece i off the board.
func (d *builder) askOff(i int) {
	m := d.pieces[i]
	d.ask(m.Piece, m.Square, game.NoSquare, fmt.Sprintf("Please take the %s off %v.", d.p.kinds.NameOf(m.Piece), m.Square))
	d.remove(i)
}

// askOn has a person put a piece on a square; a piece standing there goes off.
func (d *builder) askOn(piece game.Piece, sq game.Square) {
	text := fmt.Sprintf("Please put a %s on %v.", d.p.kinds.NameOf(piece), sq)
	if i := d.on(sq); i >= 0 {
		text = fmt.Sprintf("Please put a %s on %v in place of the %s.", d.p.kinds.NameOf(piece), sq, d.p.kinds.NameOf(d.pieces[i].Piece))
	}
	d.ask(piece, game.NoSquare, sq, text)
	d.placed(piece, sq)
}

// askStraight has a person set piece i in the middle of its square.
func (d *builder) askStraight(i int) {
	m := d.pieces[i]
	d.ask(m.Piece, m.Square, m.Square, fmt.Sprintf("Please set the %s on %v in the middle of its square.", d.p.kinds.NameOf(m.Piece), m.Square))
	d.pieces[i].At, d.pieces[i].Sigma = d.p.Centre(m.Square), game.HandSigma
}

// straighten looks for one piece that cannot be carried but stands askew and
// shuts the way; a person sets it straight and the carriage goes on.
func (d *builder) straighten(i int, to target) bool {
	var best *builder
	for k, m := range d.pieces {
		if k == i || m.Magnet || m.Square >= game.NoSquare || m.At.Distance(d.p.Centre(m.Square)) < game.HandSigma {
			continue
		}
		try := d.fork()
		try.askStraight(k)
		if try.tryCarry(i, to) && (best == nil || try.time < best.time) {
			best = try
		}
	}
	if best == nil {
		return false
	}
	*d = *best
	return true
}

// groupAsks makes one question of each run of questions: a person is told once.
func (d *builder) groupAsks() {
	var out []plan.Step
	for i := 0; i < len(d.steps); {
		n := i
		for n < len(d.steps) && d.steps[n].Do == plan.Ask {
			n++
		}
		if n-i < 2 {
			out, i = append(out, d.steps[i]), i+1
			continue
		}
		out, d.asks, i = append(out, joined(d.steps[i:n])), d.asks-(n-i-1), n
	}
	d.steps = out
}

// joined is one question for what several ask: "Please do this, do that and
// do the other."
func joined(asks []plan.Step) plan.Step {
	s := plan.Step{Do: plan.Ask, From: game.NoSquare, To: game.NoSquare}
	var parts []string
	for _, a := range asks {
		parts = append(parts, strings.TrimSuffix(strings.TrimPrefix(a.Text, "Please "), "."))
		for _, one := range a.Single() {
			s.Acts = append(s.Acts, game.Act{Piece: one.Piece, From: one.From, To: one.To})
		}
	}
	s.Piece, s.Text = s.Acts[0].Piece, "Please "+and(parts)+"."
	return s
}

// and says "a", "a and b", "a, b and c".
func and(parts []string) string {
	n := len(parts)
	if n < 2 {
		return strings.Join(parts, "")
	}
	return strings.Join(parts[:n-1], ", ") + " and " + parts[n-1]
}
