// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"image"

	"boardhand/internal/chess"
	"boardhand/internal/sight/background"
	"boardhand/internal/sight/numeric"
	"boardhand/internal/sight/pixels"
	"boardhand/internal/sight/silhouette"
)

// glance is one picture brought into the remembered light and compared with
// the memory, ready for hypotheses to be weighed.
type glance struct {
	scene   *scene
	model   *model
	touches touches // of the change being weighed
	plate   *pixels.Image
	raw     *pixels.Image         // the same before it was brought into the remembered light
	grey    func() *image.Gray    // the picture itself
	spent   int                   // pixels that searches have weighed so far
	done    <-chan struct{}       // closed when nobody waits for the reading any more
	air     background.Conditions // as in this picture
	shading *background.Shadows   // as in this picture and before
	relief  []float32             // by how much likelier its structure is if a pixel shows what it did
	same    []float32             // density of each pixel if it shows the piece it did
	still   []float32             // if it shows the board, as it did
	bared   []float32             // if it shows the board that a piece has laid open
	base    []float32             // if nothing has changed
	cells   []int32               // of the palettes
}

// touches are the pixels that a change can touch, and who arrives over them.
type touches struct {
	slot   []int32   // by pixel: its place in the lists, from 1 on; 0: not touched
	px     []int32   // the pixels
	extra  []arrival // depthExtra each
	extras []uint8   // how many of them are used
}

// touch lists a pixel and says where.
func (t *touches) touch(px int32) int {
	if t.slot[px] == 0 {
		t.px, t.extras = append(t.px, px), append(t.extras, 0)
		t.extra = append(t.extra, make([]arrival, depthExtra)...)
		t.slot[px] = int32(len(t.px))
	}
	return int(t.slot[px]) - 1
}

// over gives the arrivals over a listed pixel.
func (t *touches) over(k int) []arrival {
	return t.extra[k*depthExtra : k*depthExtra+int(t.extras[k])]
}

// forget empties the lists, for so many pixels.
func (t *touches) forget(n int) {
	if len(t.slot) != n {
		*t = touches{slot: make([]int32, n)}
	}
	for _, px := range t.px {
		t.slot[px] = 0
	}
	t.px, t.extra, t.extras = t.px[:0], t.extra[:0], t.extras[:0]
}

// arrival is an arrived piece over a pixel.
type arrival struct {
	alpha float32
	piece uint8 // index in the hypothesis's arrivals
	band  uint8
}

// depthExtra is how many arrivals on one pixel are kept: two pieces that arrive
// side by side overlap; a third does not happen in a move.
const depthExtra = 3

// temper is the share of a pixel that counts as independent evidence: noise,
// coding and mistakes of the models are shared by neighbours. Set by hand on
// rendered games so that beliefs come true.
const temper = 0.10

// unlikely caps how strongly one pixel can speak, in nats, so that a few
// glints cannot outvote a piece.
const unlikely = 6.0

// weigh is the logarithm of the probability of the picture with some pieces gone
// and others arrived, less that with nothing changed.
func (g *glance) weigh(gone []bool, come []standing) float64 {
	if g.stopped() {
		return 0 // and so does every search
	}
	t := g.gather(gone, come)
	g.spent += len(t.px)
	total := 0.0
	for k, px := range t.px {
		p, q := g.changed(px, gone, come, t.over(k)), g.base[px]
		d := numeric.Log(p) - numeric.Log(q)
		total += max(-unlikely, min(unlikely, d))
	}
	return temper * total
}

// stopped says whether nobody waits for the reading any more.
func (g *glance) stopped() bool {
	select {
	case <-g.done: // nil: never
		return true
	default:
		return false
	}
}

// gather lists the pixels that the change can touch.
func (g *glance) gather(gone []bool, come []standing) *touches {
	t := &g.touches
	t.forget(len(g.base))
	for k, is := range gone {
		if is {
			for _, c := range g.scene.pieces[k].covers {
				t.touch(c.Pixel)
			}
		}
	}
	for k := range come {
		for _, c := range come[k].covers {
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
func (g *glance) changed(px int32, gone []bool, come []standing, extra []arrival) float32 {
	over := g.scene.stack.At(px)
	before, now := float32(1), float32(1) // light that gets through so far
	var p float32
	k := 0
	used := [depthExtra]bool{}
	for {
		// the nearest of the arrivals not used and the next standing piece
		next := -1
		for j := range extra {
			if !used[j] && (next < 0 || come[extra[j].piece].reach < come[extra[next].piece].reach) {
				next = j
			}
		}
		if next >= 0 && (k >= len(over) || come[extra[next].piece].reach < g.scene.pieces[over[k].Piece].reach) {
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
			p += min(was, is) * g.stays(px, o)
		}
		if is > was {
			p += (is - was) * g.piece(px, g.scene.pieces[o.Piece].piece, o.Band)
		}
	}
	p += min(before, now) * g.still[px]
	if now > before {
		p += (now - before) * g.bared[px]
	}
	return p
}

// piece is the density of a pixel if it shows a piece of a side at some height.
func (g *glance) piece(px int32, p chess.Piece, band uint8) float32 {
	return g.model.palettes[p.Color()][band].Density[g.cells[px]]
}

// stays is the density of a pixel if it shows the piece it did: as it looked,
// or, where the light on it has changed, by the colours of its side.
func (g *glance) stays(px int32, o silhouette.Layer) float32 {
	if g.model.phase() == meeting {
		return g.piece(px, g.scene.pieces[o.Piece].piece, o.Band)
	}
	return g.relief[px] * (staysLast*g.same[px] + (1-staysLast)*g.piece(px, g.scene.pieces[o.Piece].piece, o.Band))
}

// arrived is the density of a pixel if it shows an arrived piece: by the colours
// of its side, or, for one that was only nudged, by its own picture: by either,
// or by half of both when it did not look touched.
func (g *glance) arrived(px int32, m *standing, band uint8) float32 {
	d := g.piece(px, m.piece, band)
	if m.nudged == nil || g.model.phase() == meeting {
		return d
	}
	own := g.model.last.Moved(g.plate, px, m.shift, g.model.air.Noise)
	if m.plain {
		return max(d, own)
	}
	return (d + own) / 2
}
