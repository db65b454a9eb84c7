// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"boardhand/tools/score/card"
)

// total is the name of the last row of a card.
const total = "total"

// measured is what the reader made of several scenes: the one measurement
// that the gate, `make score` and a person's look at scenes share.
type measured struct {
	names  []string // of the scenes, as read
	scores map[string]*score
	total  *score
}

// readScenes reads the scenes of the given folders, one after the other.
func readScenes(t *testing.T, dirs []string) *measured {
	m := &measured{scores: map[string]*score{}, total: newScore()}
	for _, d := range dirs {
		s, err := readScene(d)
		if err != nil {
			t.Errorf("%s holds no scene: draw it anew with tools/scenes (%v)", d, err)
			continue
		}
		s.mistell(t)
		c := newScore()
		c.follow(t, s, os.Getenv("BOARDHAND_VIEW") == "true")
		name := filepath.Base(d)
		m.names = append(m.names, name)
		m.scores[name] = c
		m.total.join(c)
	}
	return m
}

// mistell has the reader told other heights, by a factor in BOARDHAND_HEIGHTS: of all kinds, or of
// every other one and its inverse of the rest (as in "1.2/").
func (s *recording) mistell(t *testing.T) {
	said := os.Getenv("BOARDHAND_HEIGHTS")
	if said == "" {
		return
	}
	f, err := strconv.ParseFloat(strings.TrimSuffix(said, "/"), 64)
	if err != nil {
		t.Fatal(err)
	}
	for k := range s.setup.Pieces {
		if strings.HasSuffix(said, "/") && k%2 == 1 {
			s.setup.Pieces[k].Height /= f
		} else {
			s.setup.Pieces[k].Height *= f
		}
	}
}

// setOf is the set that a scene belongs to: its name without the number.
func setOf(name string) string { return strings.TrimRight(name, "0123456789") }

// result is the card with a row for each group of scenes, one for each scene
// and the total, and what each picture was read as.
func (m *measured) result(group func(string) string) card.Result {
	var order []string
	groups := map[string]*score{}
	for _, n := range m.names {
		g := group(n)
		if groups[g] == nil {
			order = append(order, g)
			groups[g] = newScore()
		}
		groups[g].join(m.scores[n])
	}
	r := card.Result{Readings: m.total.readings}
	for _, g := range order {
		r.Card = append(r.Card, groups[g].row(g))
	}
	r.Card = append(r.Card, m.total.row(total))
	for _, n := range m.names {
		if r.Card.Row(n) == nil {
			r.Card = append(r.Card, m.scores[n].row(n))
		}
	}
	return r
}

// join adds what another score counted.
func (c *score) join(o *score) {
	for k, n := range o.confusion {
		c.confusion[k] += n
	}
	c.moves, c.right, c.wrong = c.moves+o.moves, c.right+o.right, c.wrong+o.wrong
	c.settled, c.unsure = c.settled+o.settled, c.unsure+o.unsure
	c.told, c.toldRight = c.told+o.told, c.toldRight+o.toldRight
	c.times = append(c.times, o.times...)
	c.readings = append(c.readings, o.readings...)
	c.offsets = append(c.offsets, o.offsets...)
	c.sigmas = append(c.sigmas, o.sigmas...)
	c.said = append(c.said, o.said...)
	c.worst = append(c.worst, o.worst...)
	c.inside.join(o.inside)
}

// row is the score as a row of a card.
func (c *score) row(name string) card.Row {
	r := card.Row{
		Name: name, Pictures: len(c.readings), Wrong: c.wrong,
		Moves: card.Count{Is: c.right, Of: c.moves}, Asked: card.Count{Is: c.unsure, Of: c.settled},
		Still: c.as(Same), Hands: c.as(Hand), Odd: card.Count{Is: c.toldRight, Of: c.told},
		Surprise: c.surprise(), Median: orNone(quantile(c.offsets, 0.5)), Most: orNone(quantile(c.offsets, 0.95)),
		Sigmas: orNone(quantile(c.sigmas, 0.95)), CPU: mean(c.times),
		Lead: c.inside.lead(), Left: mean(c.inside.left), Cover: mean(c.inside.hands), View: mean(c.inside.views),
	}
	for k, n := range c.confusion {
		if k[1] == "error" {
			r.Failed += n
		}
	}
	for _, a := range c.said {
		for k := range r.Beliefs {
			if a.belief >= card.Edges[k] && a.belief < card.Edges[k+1] {
				r.Beliefs[k].Of++
				if a.right {
					r.Beliefs[k].Is++
				}
			}
		}
	}
	return r
}

// as counts the pictures of a state that were read as that state.
func (c *score) as(s State) card.Count {
	var n card.Count
	for k, of := range c.confusion {
		if k[0] == string(s) {
			n.Of += of
			if k[1] == string(s) {
				n.Is += of
			}
		}
	}
	return n
}

// surprise is the mean −ln of the belief that was given to what came true,
// nats: small when beliefs are high and honest. An answer that was wrong left
// at least a thousandth to the others.
func (c *score) surprise() float64 {
	nats := make([]float64, 0, len(c.said))
	for _, a := range c.said {
		p := a.belief
		if !a.right {
			p = math.Max(1-a.belief, 1e-3)
		}
		nats = append(nats, -math.Log(p))
	}
	return mean(nats)
}

// orNone is 0 for a figure of nothing.
func orNone(x float64) float64 {
	if math.IsNaN(x) {
		return 0
	}
	return x
}

// mean is 0 for nothing.
func mean(v []float64) float64 {
	if len(v) == 0 {
		return 0
	}
	sum := 0.0
	for _, x := range v {
		sum += x
	}
	return sum / float64(len(v))
}
