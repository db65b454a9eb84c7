// SPDX-License-Identifier: Apache-2.0

package assess

import (
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// men are the kinds of a set with the names of their keys.
var men = []struct {
	name string
	at   func(*rig.Rig) *rig.Man
}{
	{"king", func(r *rig.Rig) *rig.Man { return &r.Pieces.King }},
	{"queen", func(r *rig.Rig) *rig.Man { return &r.Pieces.Queen }},
	{"bishop", func(r *rig.Rig) *rig.Man { return &r.Pieces.Bishop }},
	{"knight", func(r *rig.Rig) *rig.Man { return &r.Pieces.Knight }},
	{"rook", func(r *rig.Rig) *rig.Man { return &r.Pieces.Rook }},
	{"pawn", func(r *rig.Rig) *rig.Man { return &r.Pieces.Pawn }},
}

// manParts are one quantity of all men.
func manParts(what string, field func(*rig.Man) *float64) (out []part) {
	for _, m := range men {
		out = append(out, part{"pieces." + m.name + "." + what, func(r *rig.Rig) *float64 { return field(m.at(r)) }})
	}
	return out
}

func liftDisc(r *rig.Rig) (*unit.Length, *unit.Length) { return &r.Lift.Diameter, &r.Lift.Thickness }

func footDisc(r *rig.Rig) (*unit.Length, *unit.Length) {
	return &r.Pieces.Magnet.Diameter, &r.Pieces.Magnet.Thickness
}
