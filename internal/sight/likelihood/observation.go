// SPDX-License-Identifier: Apache-2.0

package likelihood

import (
	"context"
	"image"
	"sync"

	"boardhand/internal/game"
	"boardhand/internal/sight/background"
	"boardhand/internal/sight/pixels"
	"boardhand/internal/sight/scene"
)

// Observation is one picture brought into the remembered light and compared with
// the memory, ready for hypotheses to be weighed.
type Observation struct {
	Scene      *scene.Scene
	Model      *background.Model
	touches    touches // of the change being weighed
	rest       rest    // of the change weighed last: all but what moves from one to the next
	layers     layers
	version    int // grows with each change of Base
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

// Stopped says whether nobody waits for the reading any more.
func (g *Observation) Stopped() bool {
	select {
	case <-g.done: // nil: never
		return true
	default:
		return false
	}
}

// PieceDensity is the density of a pixel if it shows a piece of a side at some height.
func (g *Observation) PieceDensity(px int32, p game.Piece, band uint8) float32 {
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
	if g.structure == nil { // observed before anything was learnt, though it may have been since
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
		return g.Model.Reference.Moved(g.lightOf(k), px, m.Shift)
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
	c := g.change(gone, come)
	for k := range g.gather(&c) {
		t := &g.touches.list[k]
		odd[t.px] = c.density(t) < limit
	}
	for i, is := range g.Image.Blind {
		odd[i] = odd[i] && !is
	}
	return odd
}

// Detach lets the observation be used though nobody waits for the reading any more.
func (g *Observation) Detach() { g.done = nil }
