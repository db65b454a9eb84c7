// SPDX-License-Identifier: Apache-2.0

package assess

import (
	"boardhand/internal/game"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// pieceParts are one quantity of all pieces.
func pieceParts(what string, field func(*rig.Piece) *float64) (out []part) {
	for _, k := range game.Kinds {
		out = append(out, part{"pieces." + k.String() + "." + what, func(r *rig.Rig) *float64 { return field(r.Pieces.Of(k)) }})
	}
	return out
}

func liftDisc(r *rig.Rig) (*unit.Length, *unit.Length) { return &r.Lift.Diameter, &r.Lift.Thickness }

func footDisc(r *rig.Rig) (*unit.Length, *unit.Length) {
	return &r.Pieces.Magnet.Diameter, &r.Pieces.Magnet.Thickness
}
