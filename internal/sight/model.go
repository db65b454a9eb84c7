// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"boardhand/internal/sight/background"
	"boardhand/internal/sight/pixels"
	"boardhand/internal/sight/silhouette"
)

// phase is how far a model has come.
type phase uint8

const (
	meeting   phase = iota // no picture has been settled on: only the first is known, and no piece of it is proved
	following              // there is a reference frame that pictures are compared with
)

// model is what pictures of one table in one light are compared with: the reference
// frame, what the bare board looks like, its shadows, and the colours of both sides.
type model struct {
	last    *background.Memory // the reference frame: the last settled picture; nil before there was one
	raw     [2]*pixels.Image   // the last two settled pictures as they came from the camera, the last first; both the same after the first
	around  bool               // what lies beside the board is as in the reference frame: no bump since
	bare    *background.Memory // the bare board, where seen, else as its like elsewhere
	coat    *background.Memory // the bare board as its open places are, without grain
	bareN   []uint8            // times each pixel was seen bare, at most bareMost
	shading *background.Shadows
	air     background.Conditions

	swatches background.Bins
	tallies  [2][silhouette.Bands]*background.Histogram
	palettes [2][silhouette.Bands]background.Palette

	drifts []float32 // of the likeness in use
}

// phase is where the model stands.
func (m *model) phase() phase {
	if m.last == nil {
		return meeting
	}
	return following
}

// unsettled is the model as if there had been no picture before.
func (m *model) unsettled() *model {
	n := *m
	n.last = nil
	return &n
}

// compare prepares the comparison with a memory for the pixels of the box. It
// holds until the next one.
func (m *model) compare(with *background.Memory, now *pixels.Image, air *background.Conditions, b pixels.Box) *background.Likelihood {
	if n := 4 * len(now.L); len(m.drifts) != n {
		m.drifts = make([]float32, n)
	}
	return background.NewLikelihood(with, now, air, b, m.drifts)
}

// familiar is the plate whose light a pixel is brought into: the bare board's,
// as averaged over many pictures, where it lies open, so that a shadow in the
// last picture is not taken for the light.
func (m *model) familiar(sc *scene, i int32) *pixels.Image {
	if sc.stack.Open(i) > 0.97 {
		return m.bare.Image
	}
	return m.last.Image
}

// carry resamples a memory.
func carry(m *background.Memory, from func(int) [2]float32, b pixels.Box) *background.Memory {
	n := &background.Memory{Image: m.Image.Resampled(from)}
	if m.Spread != nil {
		n.Spread = make([]float32, len(m.Spread))
		for i := range n.Spread {
			n.Spread[i] = m.Image.Between(from(i)).Of(m.Spread)
		}
	}
	n.Slopes(b)
	return n
}

// turn takes the model from one plane to the scene's: everything by pixel is carried
// over through the board plane, and the pieces through a plane at half their height.
func (m *model) turn(sc *scene, old *pixels.Plane) {
	low, high := sc.ground.Warp(old, 0), sc.ground.Warp(old, sc.setup.middle())
	onBoard := func(i int) [2]float32 { return low[i] }
	m.last = carry(m.last, func(i int) [2]float32 {
		if sc.stack.Open(int32(i)) < 0.5 {
			return high[i]
		}
		return low[i]
	}, sc.ground.Box)
	for k, p := range m.raw {
		m.raw[k] = p.Resampled(onBoard)
	}
	m.bare = carry(m.bare, onBoard, sc.ground.Box)
	m.coat = carry(m.coat, onBoard, sc.ground.Box)
	n := make([]uint8, len(m.bareN))
	for i, p := range low {
		if x, y := int(p[0]+0.5), int(p[1]+0.5); x >= 0 && y >= 0 && x < old.W && y < old.H {
			n[i] = m.bareN[y*old.W+x]
		}
	}
	m.bareN = n
}
