// SPDX-License-Identifier: Apache-2.0

package twin

import (
	"math/rand/v2"

	"boardhand/internal/twin/lens"
	"boardhand/internal/twin/physics"
)

// newStudio hangs this machine's camera in this evening's light.
func newStudio(w *World) (*lens.Studio, error) {
	q, chance := w.deviations, w.stream(streamCamera)
	return lens.New(w.rig, lens.Setting{
		Mount: lens.Mount{Shift: q.CameraShift, Turn: q.CameraTurn, FocalScale: q.FocalScale, K1: q.K1, K2: q.K2,
			PrincipalX: q.PrincipalX, PrincipalY: q.PrincipalY},
		Height: w.table.Height,
		Chance: chance,
		Troubles: lens.Troubles{
			Drops: w.faults[CameraDrop], Bumps: w.faults[BumpCamera], Switches: w.faults[LightChange],
			LowLamp: w.diceIf(LowLamp), Onlooker: w.diceIf(BodyShadow), Glare: w.diceIf(Glare),
			Losing: w.diceIf(PictureLost), Freezing: w.diceIf(PictureFrozen),
		},
	})
}

// diceIf is the stream of chance of a fault that is on, else nil.
func (w *World) diceIf(f Fault) *rand.Rand {
	if !w.faults[f] {
		return nil
	}
	return w.dice(f)
}

// scene is what the camera sees now.
func (w *World) scene() lens.Scene {
	var s lens.Scene
	for _, b := range w.table.Pieces {
		if b.Place != physics.Gone && b.Place != physics.InHand {
			s.Pieces = append(s.Pieces, seen(b))
		}
	}
	s.Sheet = w.sheet
	if h := w.person.Hand(); h.IsOut {
		s.Arm = &lens.Arm{Tip: h.Tip, Rest: h.Rest, Elbow: h.Elbow, Look: lens.Look(h.Look)}
		if h.Holds != nil {
			p := seen(h.Holds)
			s.Arm.Holds = &p
		}
	}
	return s
}

// seen is a piece as the picture needs it.
func seen(b *physics.Piece) lens.Piece {
	return lens.Piece{ID: b.ID, Piece: b.Piece, At: b.At, Z: b.Z, OnTable: b.Place == physics.Beside, Base: b.Base, Height: b.Height,
		Yaw: b.Yaw, Shade: b.Shade, Lean: b.Lean, Rock: b.Rock, Heading: b.Heading, Fallen: b.Fallen}
}
