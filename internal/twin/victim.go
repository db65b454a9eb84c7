package twin

import (
	"math"
	"math/rand/v2"
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/twin/mechanics"
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
		b.ill = f
		switch f {
		case MagnetFlipped:
			b.strength = -b.strength
		case MagnetMissing:
			b.magnet = false
		case MagnetOffCentre:
			b.astray = offCentreLeast + (offCentreMost-offCentreLeast)*chance.Float64()
		}
		delete(w.sources, faultStream(f)) // drawn from once
	}
}

// victim chooses a piece for a fault of its magnet. So that a game meets its
// fault it is one of the machine's that a game moves early, if one is there: a
// knight, a bishop, the queen or a pawn of the four files in the middle.
func (w *World) victim(chance *rand.Rand) *body {
	machine := chess.Black
	if w.rig.Play.Side == "white" {
		machine = chess.White
	}
	sound := func(b *body) bool { return b.magnet && b.ill == "" && b.place == onBoard }
	for _, fits := range []func(*body) bool{
		func(b *body) bool { return sound(b) && b.piece.Color() == machine && movesEarly(b) },
		func(b *body) bool { return sound(b) && b.piece.Color() == machine },
		sound,
	} {
		var may []*body
		for _, b := range w.men {
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

func movesEarly(b *body) bool {
	switch b.piece.Kind() {
	case chess.Knight, chess.Bishop, chess.Queen:
		return true
	case chess.Pawn:
		f := b.origin.File()
		return b.origin < chess.NoSquare && f >= 2 && f <= 5
	}
	return false
}

// pole is where the axis of the piece's magnet is.
func (b *body) pole() frame.Spot[frame.Board] {
	if b.astray == 0 {
		return b.at
	}
	sin, cos := math.Sincos(b.yaw)
	return b.at.Add(frame.Spot[frame.Board]{X: b.astray * cos, Y: b.astray * sin})
}

// swivel turns a sliding piece whose magnet sits off its axis: the pull has a
// lever there, and the piece turns until its magnet leads.
//
// For a base of radius R pressed evenly, sliding at v and turning at ω ≪ v/R, the
// friction F has the moment F R² ω/(4 v) against the turn, first order in ωR/v.
// A pull with the moment M so turns it at ω = 4 v M/(F R²), here v/R at most.
// Source: Coulomb friction integrated over a disc, textbook.
func (b *body) swivel(pull frame.Spot[frame.Board], friction float64) {
	v := b.vel.Norm()
	if b.astray == 0 || v == 0 || friction <= 0 {
		return
	}
	arm := b.pole().Sub(b.at)
	moment := arm.X*pull.Y - arm.Y*pull.X
	most := v / b.foot
	b.yaw += mechanics.Step * math.Max(-most, math.Min(most, 4*v*moment/(friction*b.foot*b.foot)))
}
