// SPDX-License-Identifier: Apache-2.0

package coupling

import (
	"math"

	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// Contact is the force between the drive magnet's cap and the board's underside
// over the warp, newtons: least and most, without a piece above. Source: Hooke's
// law. Range: springs within their travel.
func Contact(r *rig.Rig) (least, most float64) {
	l, half := r.Lift, float64(r.Board.Warp)/2
	return float64(l.Preload) - float64(l.Spring)*half, float64(l.Preload) + float64(l.Spring)*half
}

// Gaps are the least and the most distance of the magnets' faces over the warp. A sprung
// magnet follows the sheet while its spring has force left: then the gap is the same all
// over. Where it has none the sheet bows away from it; without a spring it bows to and fro,
// at most by the air towards the magnet. Never below what counts as touching. Source: Hooke's
// law. Range: as Contact.
func Gaps(r *rig.Rig) (near, far unit.Length) {
	l, half, gap := r.Lift, r.Board.Warp/2, r.Gap()
	near, far = gap, gap
	if l.Spring > 0 {
		far += max(0, half-unit.Length(float64(l.Preload)/float64(l.Spring)))
	} else {
		near, far = gap-min(half, l.Air), gap+half
	}
	return max(near, leastGap), max(far, leastGap)
}

// Bowed are the least and the most distance of the faces over the warp where the magnet keeps
// its height: lowered by drop it follows no sheet. Never below what counts as touching.
func Bowed(r *rig.Rig, drop unit.Length) (near, far unit.Length) {
	half, gap := r.Board.Warp/2, r.Gap()
	return max(gap-half, leastGap) + drop, gap + half + drop
}

// Pressed is the largest contact force, newtons, with the pull of a piece above.
func (c Coupling) Pressed() float64 {
	_, most := Contact(c.Rig)
	if c.Pull == nil {
		return most
	}
	p, err := c.Pull.At(float64(c.Spread.Near), 0)
	if err != nil {
		return most
	}
	return most + math.Max(0, p.Axial*c.Spread.Strong)
}

// Rubbing is the most friction of the raised magnet on the underside, newtons.
// Source: Coulomb friction.
func (c Coupling) Rubbing() float64 { return c.Rig.Lift.Friction * math.Max(0, c.Pressed()) }

// Towed is the most that a carried piece pulls back with, newtons, while it
// gains speed at a: its static friction under the strongest pull, and m·a.
// Source: Coulomb friction, Newton.
func (c Coupling) Towed(a unit.Acceleration) (float64, error) {
	p, err := c.Pull.At(float64(c.Spread.Near), 0)
	if err != nil {
		return 0, err
	}
	p.Axial *= c.Spread.Strong
	worst := 0.0
	for _, k := range c.Extremes() {
		s := c.Stand(k)
		worst = math.Max(worst, s.Static*s.Normal(p)+float64(s.Mass)*float64(a))
	}
	return worst, nil
}
