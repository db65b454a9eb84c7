// SPDX-License-Identifier: Apache-2.0

package likelihood

import (
	"boardhand/internal/sight/nats"
	"boardhand/internal/sight/numeric"
	"boardhand/internal/sight/scene"
)

// change is some pieces gone and others arrived.
type change struct {
	*Observation
	gone []bool
	come []scene.Placement
}

// change prepares to weigh a change.
func (g *Observation) change(gone []bool, come []scene.Placement) change {
	g.layers.refresh(g)
	return change{Observation: g, gone: gone, come: come}
}

// Weigh is the logarithm of the probability of the picture with some pieces gone
// and others arrived, less that with nothing changed.
func (g *Observation) Weigh(gone []bool, come []scene.Placement) nats.LogLikelihood {
	if g.Stopped() {
		return 0 // and so does every search
	}
	c := g.change(gone, come)
	n := g.gather(&c)
	g.Spent += n
	mover := g.rest.follow(&c)
	total := 0.0
	for k := range n {
		t := &g.touches.list[k]
		if t.has(mover) {
			total += c.term(t)
			continue
		}
		v, ok := g.rest.term(t.px)
		if !ok {
			v = c.term(t)
			g.rest.keep(t.px, v)
		}
		total += v
	}
	return nats.LogLikelihood(IndependentShare * total)
}

// gather lists the pixels that the change can touch and counts them.
func (g *Observation) gather(c *change) int {
	t := &g.touches
	t.forget(len(g.Base))
	for k, is := range c.gone {
		if is {
			for _, o := range g.Scene.Pieces[k].Covers {
				t.at(o.Pixel)
			}
		}
	}
	for k := range c.come {
		for _, o := range c.come[k].Covers {
			t.at(o.Pixel).add(arrival{alpha: o.Alpha, piece: uint8(k), band: o.Band}, c.come)
		}
	}
	return len(t.list)
}

// term is by how many nats the change makes a pixel likelier.
func (c *change) term(t *touch) float64 {
	if c.Image.IsBlind(int(t.px)) {
		return 0
	}
	d := numeric.Log(c.density(t)) - c.logBase(t.px)
	if d > MostNats {
		return MostNats
	}
	if d < -MostNats {
		return -MostNats
	}
	return d
}

// density is that of a pixel under the change: what is still the same
// thing keeps the memory's density, what is newly seen takes its model's.
func (c *change) density(t *touch) float32 {
	first, over := c.Scene.Stack.Layers(t.px)
	pieces := c.Scene.Pieces
	before, now := float32(1), float32(1) // light that gets through so far
	var p float32
	j := 0
	for k := range over {
		o := &over[k]
		for ; j < int(t.n) && c.come[t.extra[j].piece].Reach < pieces[o.Piece].Reach; j++ {
			a := t.extra[j]
			p += now * a.alpha * c.arrived(t.px, &c.come[a.piece], a.band)
			now *= 1 - a.alpha
		}
		was, is := before*o.Alpha, float32(0)
		before *= 1 - o.Alpha
		if !c.gone[o.Piece] {
			is = now * o.Alpha
			now *= 1 - o.Alpha
		}
		if is > 0 && was > 0 {
			p += min(was, is) * c.layers.stays[first+k]
		}
		if is > was {
			p += (is - was) * c.PieceDensity(t.px, pieces[o.Piece].Piece, o.Band)
		}
	}
	for ; j < int(t.n); j++ {
		a := t.extra[j]
		p += now * a.alpha * c.arrived(t.px, &c.come[a.piece], a.band)
		now *= 1 - a.alpha
	}
	p += min(before, now) * c.still[t.px]
	if now > before {
		p += (now - before) * c.bared[t.px]
	}
	return p
}
