// SPDX-License-Identifier: Apache-2.0

package twin

import (
	"math/rand/v2"
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/twin/physics"
)

// dice is the stream of chance of one fault: what one fault does leaves
// everything else as it was.
func (w *World) dice(f Fault) *rand.Rand {
	return w.stream(faultStream(f))
}

func faultStream(f Fault) uint64 { return streamFaults + uint64(slices.Index(Faults(), f)) }

// afflict gives the pieces whose magnets are wrong what is wrong with them.
func (w *World) afflict() {
	for _, f := range [3]Fault{MagnetFlipped, MagnetMissing, MagnetOffCentre} {
		if !w.faults[f] {
			continue
		}
		chance := w.dice(f)
		b := w.victim(chance)
		if b == nil {
			continue
		}
		w.ills[b] = f
		switch f {
		case MagnetFlipped:
			b.Strength = -b.Strength
		case MagnetMissing:
			b.Magnet = false
		case MagnetOffCentre:
			b.Astray = offCentreLeast + (offCentreMost-offCentreLeast)*chance.Float64()
		}
		delete(w.sources, faultStream(f)) // drawn from once
	}
}

// victim chooses a piece for a fault of its magnet. So that a game meets its
// fault it is one of the machine's that a game moves early, if one is there: a
// knight, a bishop, the queen or a pawn of the four files in the middle.
func (w *World) victim(chance *rand.Rand) *physics.Piece {
	machine := chess.Black
	if w.rig.Play.Side == "white" {
		machine = chess.White
	}
	sound := func(b *physics.Piece) bool { return b.Magnet && w.ills[b] == "" && b.Place == physics.OnBoard }
	for _, fits := range []func(*physics.Piece) bool{
		func(b *physics.Piece) bool { return sound(b) && b.Piece.Color() == machine && movesEarly(b) },
		func(b *physics.Piece) bool { return sound(b) && b.Piece.Color() == machine },
		sound,
	} {
		var may []*physics.Piece
		for _, b := range w.table.Pieces {
			if fits(b) {
				may = append(may, b)
			}
		}
		if len(may) > 0 {
			return may[chance.IntN(len(may))]
		}
	}
	return nil
}

func movesEarly(b *physics.Piece) bool {
	switch b.Piece.Kind() {
	case chess.Knight, chess.Bishop, chess.Queen:
		return true
	case chess.Pawn:
		f := b.Origin.File()
		return b.Origin < chess.NoSquare && f >= 2 && f <= 5
	}
	return false
}
