// SPDX-License-Identifier: Apache-2.0

package likelihood

import (
	"context"
	"image"
	"sync"

	"boardhand/internal/chess"
	"boardhand/internal/sight/background"
	"boardhand/internal/sight/nats"
	"boardhand/internal/sight/numeric"
	"boardhand/internal/sight/pixels"
	"boardhand/internal/sight/scene"
)

// Observation is one picture brought into the remembered light and compared with
// the memory, ready for hypotheses to be weighed.
type Observation struct {
	Scene      *scene.Scene
	Model      *background.Model
	touches    touches // of the change being weighed
	Image      *pixels.Image
	Raw        *pixels.Image         // the same before it was brought into the remembered light
	Grey       func() *image.Gray    // the picture itself
	Spent      int                   // pixels that searches have weighed so far
	done       <-chan struct{}       // closed when nobody waits for the reading any more
	Conditions background.Conditions // as in this picture
	shadows    *background.Shadows   // as in this picture and before
	structure  []float32             // by how much likelier its structure is if a pixel shows what it did
	Same       []float32             // density of each pixel if it shows the piece it did
	still      []float32             // if it shows the board, as it did
	bared      []float32             // if it shows the board that a piece has laid open
	Base       []float32             // if nothing has changed
	cells      []int32               // of the colour models
	others     [][]int32             // and in the other lights that pixels may be in
	ridges     []float64             // median squared slope of brightness by ground, once asked
}

// Weigh is the logarithm of the probability of the picture with some pieces gone
// and others arrived, less that with nothing changed.
func (g *Observation) Weigh(gone []bool, come []scene.Placement) nats.LogLikelihood {
	if g.Stopped() {
		return 0 // and so does every search
	}
	t := g.gather(gone, come)
	g.Spent += len(t.px)
	total := 0.0
	for k, px := range t.px {
		if g.Image.IsBlind(int(px)) {
			continue
		}
		p, q := g.changed(px, gone, come, t.over(k)), g.Base[px]
		d := numeric.Log(p) - numeric.Log(q)
		total += max(-MostNats, min(MostNats, d))
	}
	return nats.LogLikelihood(independentShare * total)
}

// Stopped says whether nobody waits for the reading any more.
func (g *Observation) Stopped() bool {
	select {
	case <-g.done: // nil: never
		return true
	default:
		return false
	}
}

// gather lists the pixels that the change can touch.
func (g *Observation) gather(gone []bool, come []scene.Placement) *touches {
	t := &g.touches
	t.forget(len(g.Base))
	for k, is := range gone {
		if is {
			for _, c := range g.Scene.Pieces[k].Covers {
				t.touch(c.Pixel)
			}
		}
	}
	for k := range come {
		for _, c := range come[k].Covers {
			n := t.touch(c.Pixel)
			if d := t.extras[n]; d < depthExtra {
				t.extra[n*depthExtra+int(d)] = arrival{alpha: c.Alpha, piece: uint8(k), band: c.Band}
				t.extras[n] = d + 1
			}
		}
	}
	return t
}

// changed is the density of a pixel under the change: what is still the same
// thing keeps the memory's density, what is newly seen takes its model's.
func (g *Observation) changed(px int32, gone []bool, come []scene.Placement, extra []arrival) float32 {
	over := g.Scene.Stack.At(px)
	before, now := float32(1), float32(1) // light that gets through so far
	var p float32
	k := 0
	used := [depthExtra]bool{}
	for {
		// the nearest of the arrivals not used and the next standing piece
		next := -1
		for j := range extra {
			if !used[j] && (next < 0 || come[extra[j].piece].Reach < come[extra[next].piece].Reach) {
				next = j
			}
		}
		if next >= 0 && (k >= len(over) || come[extra[next].piece].Reach < g.Scene.Pieces[over[k].Piece].Reach) {
			a := extra[next]
			used[next] = true
			p += now * a.alpha * g.arrived(px, &come[a.piece], a.band)
			now *= 1 - a.alpha
			continue
		}
		if k >= len(over) {
			break
		}
		o := over[k]
		k++
		was, is := before*o.Alpha, float32(0)
		before *= 1 - o.Alpha
		if !gone[o.Piece] {
			is = now * o.Alpha
			now *= 1 - o.Alpha
		}
		if is > 0 && was > 0 {
			p += min(was, is) * g.stays(px, o.Piece, o.Band)
		}
		if is > was {
			p += (is - was) * g.PieceDensity(px, g.Scene.Pieces[o.Piece].Piece, o.Band)
		}
	}
	p += min(before, now) * g.still[px]
	if now > before {
		p += (now - before) * g.bared[px]
	}
	return p
}

// PieceDensity is the density of a pixel if it shows a piece of a side at some height.
func (g *Observation) PieceDensity(px int32, p chess.Piece, band uint8) float32 {
	colours := g.Model.Appearance[p.Color()][band].Density
	d := colours[g.cells[px]]
	if g.others == nil || !g.Image.Doubtful[px] {
		return d
	}
	return g.above(int(px), func(k int) float32 {
		if k == 0 {
			return d
		}
		return colours[g.others[k-1][px]]
	})
}

// stays is the density of a pixel if it shows the piece it did: as it looked,
// or, where the light on it has changed, by the colours of its side.
func (g *Observation) stays(px int32, piece, band uint8) float32 {
	if g.Model.Phase() == background.Meeting {
		return g.PieceDensity(px, g.Scene.Pieces[piece].Piece, band)
	}
	return g.structure[px] * (staysLast*g.Same[px] + (1-staysLast)*g.PieceDensity(px, g.Scene.Pieces[piece].Piece, band))
}

// arrived is the density of a pixel if it shows an arrived piece: by the colours
// of its side, or, for one that was only nudged, by its own picture: by either,
// or by half of both when it did not look touched.
func (g *Observation) arrived(px int32, m *scene.Placement, band uint8) float32 {
	d := g.PieceDensity(px, m.Piece, band)
	if m.Nudged == nil || g.Model.Phase() == background.Meeting {
		return d
	}
	own := g.above(int(px), func(k int) float32 {
		return g.Model.Reference.Moved(g.lightOf(k), px, m.Shift, g.Model.Conditions.Noise)
	})
	if m.Plain {
		return max(d, own)
	}
	return (d + own) / 2
}

// See gives an observation the picture itself; it is given up when the context ends.
func (g *Observation) See(ctx context.Context, img image.Image) {
	g.done = ctx.Done()
	g.Grey = sync.OnceValue(func() *image.Gray { return pixels.LumaOf(img) })
}

// Below marks the pixels whose density is less than a limit with some pieces gone and
// others arrived.
func (g *Observation) Below(gone []bool, come []scene.Placement, limit float32) []bool {
	b, w := g.Scene.Plane.Box, g.Scene.Plane.W
	odd := make([]bool, len(g.Base))
	for y := b.Y0; y < b.Y1; y++ {
		for i := y*w + b.X0; i < y*w+b.X1; i++ {
			odd[i] = g.Base[i] < limit
		}
	}
	t := g.gather(gone, come)
	for k, px := range t.px {
		odd[px] = g.changed(px, gone, come, t.over(k)) < limit
	}
	for i, is := range g.Image.Blind {
		odd[i] = odd[i] && !is
	}
	return odd
}

// Detach lets the observation be used though nobody waits for the reading any more.
func (g *Observation) Detach() { g.done = nil }
