// SPDX-License-Identifier: Apache-2.0

package coupling

import (
	"boardhand/internal/game"
	"boardhand/internal/magnet"
	"boardhand/internal/unit"
)

// Beside is the least distance, metres, at which a piece of a kind stands still
// while the raised magnet with a carried base over it passes, on friction less
// by the share loose: the drive magnet pulls or pushes and takes weight off, and
// the two foot magnets repel. Where the drive pulls and the base pushes, the two
// are not set off against one another: the piece trails, so the two do not stand
// in one place. Range: up to Reach. Source: Coulomb friction and direct
// integration over the charged discs.
func (c Coupling) Beside(k game.Kind, loose float64) (float64, error) {
	s := c.Stand(k)
	mu := s.Static * (1 - loose)
	drags := func(x float64) (bool, error) {
		push, err := magnet.SideBySide(c.Pair.Upper, c.Pair.Upper, unit.Length(x))
		if err != nil {
			return false, err
		}
		for _, gap := range [2]unit.Length{c.Spread.Near, c.Spread.Far} {
			p, err := s.Pull.At(float64(gap), x)
			if err != nil {
				return false, err
			}
			p.Axial, p.Lateral = p.Axial*c.Spread.Strong, p.Lateral*c.Spread.Strong
			apart := push*c.Spread.Strong + max(0, -p.Lateral)
			if max(apart, p.Lateral) > mu*s.Normal(p) {
				return true, nil
			}
		}
		return false, nil
	}
	least := float64(c.Pair.Upper.Diameter)
	for x := float64(s.Reach); x > least; x -= besideStep {
		if bad, err := drags(x); err != nil || bad {
			return x + besideStep, err
		}
	}
	return least, nil
}
