// SPDX-License-Identifier: Apache-2.0

package likelihood

import (
	"boardhand/internal/sight/background"
	"boardhand/internal/sight/numeric"
)

// layers keeps what all changes have in common: the densities of the pieces that stood, if
// they stay, and the logarithms of those with nothing changed.
type layers struct {
	stays     []float32 // by layer of the scene's stack
	version   int       // of that stack
	colours   *float32  // the model's when they were found
	reference *background.Template
	logs      []float64 // of Base by pixel, 0 where not asked yet
}

// refresh finds the densities again if the scene or the model has changed.
func (l *layers) refresh(g *Observation) {
	s, m := &g.Scene.Stack, g.Model
	var colours *float32
	if d := m.Appearance[0][0].Density; len(d) > 0 {
		colours = &d[0]
	}
	if l.version == s.Version && l.colours == colours && l.reference == m.Reference && l.stays != nil {
		return
	}
	l.version, l.colours, l.reference = s.Version, colours, m.Reference
	l.stays = make([]float32, s.Len())
	for px := range int32(len(s.Count)) {
		if s.Count[px] == 0 {
			continue
		}
		first, over := s.Layers(px)
		for k, o := range over {
			l.stays[first+k] = g.stays(px, o.Piece, o.Band)
		}
	}
	g.rest.isStale = true
}

// Version grows when what pixels say of a change becomes another.
func (g *Observation) Version() int { return g.version + g.Scene.Stack.Version }

// logBase is the logarithm of a pixel's density with nothing changed.
func (g *Observation) logBase(px int32) float64 {
	l := &g.layers
	if len(l.logs) != len(g.Base) {
		l.logs = make([]float64, len(g.Base))
	}
	v := l.logs[px]
	if v == 0 {
		v = numeric.Log(g.Base[px])
		l.logs[px] = v
	}
	return v
}

// setBase sets the density of a pixel with nothing changed.
func (g *Observation) setBase(px int32, d float32) {
	g.Base[px] = d
	g.version++
	g.rest.isStale = true
	if g.layers.logs != nil {
		g.layers.logs[px] = 0
	}
}
