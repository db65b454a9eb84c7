// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/optics"
	"boardhand/internal/sight/background"
)

// turn takes the eye to another view, after a bump: everything remembered by
// pixel is carried over through the board plane, and for the pieces through a
// plane at half their height.
func (e *eye) turn(v optics.View) {
	old := e.ground
	const slight = 0.5                          // plate pixels: the table, a little lower, moves about as far as the board
	e.around = e.around && e.travel(v) < slight // and otherwise after more
	at := e.spots()
	e.look(v)
	if e.last == nil {
		e.place(at)
		return
	}
	low, high := e.ground.Warp(old, 0), e.ground.Warp(old, e.setup.middle())
	sigma := e.sigmas()
	e.place(at)
	e.setSigmas(sigma)
	e.last = e.carry(e.last, func(i int) [2]float32 {
		if e.stack.Open(int32(i)) < 0.5 {
			return high[i]
		}
		return low[i]
	})
	for k, p := range e.raw {
		e.raw[k] = p.Resampled(func(i int) [2]float32 { return low[i] })
	}
	e.bare = e.carry(e.bare, func(i int) [2]float32 { return low[i] })
	e.coat = e.carry(e.coat, func(i int) [2]float32 { return low[i] })
	n := make([]uint8, len(e.bareN))
	for i, p := range low {
		if x, y := int(p[0]+0.5), int(p[1]+0.5); x >= 0 && y >= 0 && x < old.W && y < old.H {
			n[i] = e.bareN[y*old.W+x]
		}
	}
	e.bareN = n
}

// spots is where the pieces stand.
func (e *eye) spots() map[chess.Square]frame.Spot[frame.Board] {
	at := map[chess.Square]frame.Spot[frame.Board]{}
	for _, m := range e.pieces {
		at[m.square] = m.at
	}
	return at
}

// sigmas is how sure the pieces's places are, by square.
func (e *eye) sigmas() map[chess.Square]float64 {
	sigma := map[chess.Square]float64{}
	for _, m := range e.pieces {
		sigma[m.square] = m.sigma
	}
	return sigma
}

// setSigmas says how sure the pieces's places are, by square.
func (e *eye) setSigmas(sigma map[chess.Square]float64) {
	for k := range e.pieces {
		e.pieces[k].sigma = sigma[e.pieces[k].square]
	}
}

// middle is half the height of a middling piece, metres.
func (s Setup) middle() float64 { return s.Pieces[chess.Knight].Height / 2 }

// carry resamples a memory.
func (e *eye) carry(m *background.Memory, from func(int) [2]float32) *background.Memory {
	n := &background.Memory{Image: m.Image.Resampled(from)}
	if m.Spread != nil {
		n.Spread = make([]float32, len(m.Spread))
		for i := range n.Spread {
			n.Spread[i] = m.Image.Between(from(i)).Of(m.Spread)
		}
	}
	n.Slopes(e.ground.Box)
	return n
}
