// SPDX-License-Identifier: Apache-2.0

package background

import (
	"boardhand/internal/sight/pixels"
	"boardhand/internal/sight/scene"
	"boardhand/internal/sight/silhouette"
)

// phase is how far a model has come.
type phase uint8

const (
	Meeting   phase = iota // no picture has been settled on: only the first is known, and no piece of it is proved
	Following              // there is a reference frame that pictures are compared with
)

// Model is what pictures of one table in one light are compared with: the reference
// frame, what the bare board looks like, its shadows, and the colours of both sides.
type Model struct {
	Reference  *Template        // the reference frame: the last settled picture; nil before there was one
	Frames     [3]*pixels.Image // settled pictures as they came from the camera: the last, the one before, the first
	Around     bool             // what lies beside the board is as in the reference frame: no bump since
	Bare       *Template        // the bare board, where seen, else as its like elsewhere
	Even       *Template        // the bare board as its open places are, without grain
	seenBare   []uint8          // times each pixel was seen bare, at most as many as are remembered
	Shadows    *Shadows
	Conditions Conditions

	Bins       Bins
	histograms [2][silhouette.Bands]*Histogram
	Appearance [2][silhouette.Bands]ColourModel

	room []float32 // of the likeness in use
}

// Phase is where the model stands.
func (m *Model) Phase() phase {
	if m.Reference == nil {
		return Meeting
	}
	return Following
}

// Unsettled is the model as if there had been no picture before.
func (m *Model) Unsettled() *Model {
	n := *m
	n.Reference = nil
	return &n
}

// Compare prepares the comparison with a memory for the pixels of the box. It
// holds until the next one.
func (m *Model) Compare(with *Template, now *pixels.Image, air *Conditions, b pixels.Box) *Likelihood {
	if n := 4 * len(now.L); len(m.room) != n {
		m.room = make([]float32, n)
	}
	return NewLikelihood(with, now, air, b, m.room)
}

// Familiar is the rectified image whose light a pixel is brought into: the bare board's,
// as averaged over many pictures, where it lies open, so that a shadow in the
// last picture is not taken for the light.
func (m *Model) Familiar(sc *scene.Scene, i int32) *pixels.Image {
	if sc.Stack.Open(i) > 0.97 {
		return m.Bare.Image
	}
	return m.Reference.Image
}

// DropRoom drops the room in which the model compares: the next comparison makes it anew.
func (m *Model) DropRoom() { m.room = nil }

// resampled resamples a memory.
func resampled(m *Template, from func(int) [2]float32, b pixels.Box) *Template {
	n := &Template{Image: m.Image.Resampled(from)}
	if m.Spread != nil {
		n.Spread = make([]float32, len(m.Spread))
		for i := range n.Spread {
			n.Spread[i] = m.Image.Between(from(i)).Of(m.Spread)
		}
	}
	n.Slopes(b)
	return n
}

// Turn takes the model from one plane to the scene's: everything by pixel is carried
// over through the board plane, and the pieces through a plane at half their height.
func (m *Model) Turn(sc *scene.Scene, old *pixels.Plane) {
	low, high := sc.Plane.Warp(old, 0), sc.Plane.Warp(old, sc.Setup.HalfHeight())
	onBoard := func(i int) [2]float32 { return low[i] }
	m.Reference = resampled(m.Reference, func(i int) [2]float32 {
		if sc.Stack.Open(int32(i)) < 0.5 {
			return high[i]
		}
		return low[i]
	}, sc.Plane.Box)
	for k, p := range m.Frames {
		if p != nil {
			m.Frames[k] = p.Resampled(onBoard)
		}
	}
	m.Bare = resampled(m.Bare, onBoard, sc.Plane.Box)
	m.Even = resampled(m.Even, onBoard, sc.Plane.Box)
	n := make([]uint8, len(m.seenBare))
	for i, p := range low {
		if x, y := int(p[0]+0.5), int(p[1]+0.5); x >= 0 && y >= 0 && x < old.W && y < old.H {
			n[i] = m.seenBare[y*old.W+x]
		}
	}
	m.seenBare = n
}
