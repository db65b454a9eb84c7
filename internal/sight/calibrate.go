// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"math"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/sight/inference"
	"boardhand/internal/sight/likelihood"
	"boardhand/internal/sight/pixels"
	"boardhand/internal/sight/silhouette"
)

// buildFactors are those tried: turned sets differ by about this much.
var buildFactors = []float64{0.7, 0.85, 1, 1.2, 1.4}

// fitBuilds finds the build of the pieces that explains the first picture best: of
// all kinds together, then of the knights, which nobody turns, by themselves.
func (e *tracker) fitBuilds(g *likelihood.Observation) {
	at := e.Places()
	region := e.coverable(at)
	best, top := e.Build, math.Inf(-1)
	try := func(kinds []chess.Kind, part func(*silhouette.Build, float64)) {
		start := best
		for _, f := range buildFactors {
			b := start
			for _, k := range kinds {
				part(&b[k], f)
			}
			e.Dress(b, at)
			if v := g.Total(region); v > top {
				best, top = b, v
			}
		}
	}
	body := func(b *silhouette.Build, f float64) { b.Body = f }
	head := func(b *silhouette.Build, f float64) { b.Head = f }
	all := chess.Kinds.All()
	try(all, body)
	try(all, head)
	try(all, body)
	for _, m := range e.Pieces {
		if m.Piece.Kind() == chess.Knight {
			try([]chess.Kind{chess.Knight}, body)
			try([]chess.Kind{chess.Knight}, head)
			break
		}
	}
	e.Dress(best, at)
	e.Outlines.Tidy()
}

// coverable lists the pixels that the pieces can cover in the slimmest and the
// stoutest build.
func (e *tracker) coverable(at map[chess.Square]frame.Spot[frame.Board]) []int32 {
	var region []int32
	seen := make([]bool, len(e.Stack.Count))
	for _, f := range [2]float64{buildFactors[0], buildFactors[len(buildFactors)-1]} {
		e.Dress(silhouette.Uniform(silhouette.Build{Body: f, Head: f}), at)
		for i, n := range e.Stack.Count {
			if n > 0 && !seen[i] {
				seen[i] = true
				region = append(region, int32(i))
			}
		}
	}
	return region
}

// calibrate finds where in their squares the pieces of the first picture stand,
// and learns the shadows and their colours again from there, twice: shadows that
// were taken for pieces draw them away.
func (e *tracker) calibrate(raw, lit *pixels.Image) {
	q := inference.New(e.observe(raw, false))
	at, sigma := map[chess.Square]frame.Spot[frame.Board]{}, map[chess.Square]float64{}
	q.Survey(e.Board, at, sigma)
	e.imagine(lit)
	e.LearnSides(&e.Scene, lit)
	q = inference.New(e.observe(raw, false))
	e.fitBuilds(q.Observation)
	q.Survey(e.Board, at, sigma)
	e.SetSigmas(sigma)
	e.imagine(lit)
	e.LearnSides(&e.Scene, lit)
}
