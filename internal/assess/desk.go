// SPDX-License-Identifier: Apache-2.0

package assess

import (
	"boardhand/internal/coupling"
	"boardhand/internal/rig"
)

// Study is one rig with what its checks share, for a search that judges many
// rigs line by line. One goroutine at a time.
type Study struct{ s *study }

// Begin studies a rig; like, when not nil, lends its force table where the
// pair of magnets and the gaps between them are the very same.
func Begin(r *rig.Rig, like *Study) *Study {
	var from *study
	if like != nil && like.s.sameGap(r) {
		from = like.s
	}
	return &Study{newStudy(r, from)}
}

// sameGap says whether a rig's magnets stand as far apart as the study's, over
// the same warp and with the same drop: then both would make the same table.
func (s *study) sameGap(r *rig.Rig) bool {
	return r.Gap() == s.Rig.Gap() && r.Board.Warp == s.Rig.Board.Warp && r.Lift.Drop == s.Rig.Lift.Drop
}

// With is the same study for a rig that differs only in what no force or lag
// depends on: squares, bases, gears, motors, camera, walls, leads, supply.
func (s *Study) With(r *rig.Rig) *Study {
	c := *s.s
	c.Rig, c.pieces = r, piecesOf(r)
	return &Study{&c}
}

// Line judges one check, by its place in Lines.
func (s *Study) Line(i int) Check { return probes[i].judge(s.s).Sealed() }

// All judges all checks, in the order of Lines.
func (s *Study) All() []Check { return s.s.judge() }

// Coupling is what the rig's magnets do, by the force table of the study; an
// error when nothing can be said of them.
func (s *Study) Coupling() (coupling.Coupling, error) { return s.s.Coupling, s.s.err }

// Towed is what a carried piece pulls back with at most, newtons.
func (s *Study) Towed() float64 { return s.s.towed() }

// Sides are the four sides with how far the magnet gets and must get.
func (s *Study) Sides() [4]Side { return s.s.sides() }

// Coupled says whether the magnets can carry the pieces at all.
func (s *Study) Coupled() bool { return s.s.carries() }

// Lines are the names of all checks in the order of Judge.
func Lines() []string {
	var out []string
	for _, c := range Judge(&rig.Rig{}) {
		out = append(out, c.ID)
	}
	return out
}
