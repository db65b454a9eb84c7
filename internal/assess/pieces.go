// SPDX-License-Identifier: Apache-2.0

package assess

import (
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// pieces are the kinds of a set with the names of their keys.
var pieces = []struct {
	name string
	at   func(*rig.Rig) *rig.Piece
}{
	{"king", func(r *rig.Rig) *rig.Piece { return &r.Pieces.King }},
	{"queen", func(r *rig.Rig) *rig.Piece { return &r.Pieces.Queen }},
	{"bishop", func(r *rig.Rig) *rig.Piece { return &r.Pieces.Bishop }},
	{"knight", func(r *rig.Rig) *rig.Piece { return &r.Pieces.Knight }},
	{"rook", func(r *rig.Rig) *rig.Piece { return &r.Pieces.Rook }},
	{"pawn", func(r *rig.Rig) *rig.Piece { return &r.Pieces.Pawn }},
}

// manParts are one quantity of all pieces.
func pieceParts(what string, field func(*rig.Piece) *float64) (out []part) {
	for _, m := range pieces {
		out = append(out, part{"pieces." + m.name + "." + what, func(r *rig.Rig) *float64 { return field(m.at(r)) }})
	}
	return out
}

func liftDisc(r *rig.Rig) (*unit.Length, *unit.Length) { return &r.Lift.Diameter, &r.Lift.Thickness }

func footDisc(r *rig.Rig) (*unit.Length, *unit.Length) {
	return &r.Pieces.Magnet.Diameter, &r.Pieces.Magnet.Thickness
}
