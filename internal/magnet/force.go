// SPDX-License-Identifier: Apache-2.0

package magnet

import (
	"boardhand/internal/unit"
)

// Pull is the force between two magnets, newtons: attraction along the axis
// and the pull back to the axis count as positive.
type Pull struct{ Axial, Lateral float64 }

// The gaps and offsets over which the integrals were checked, metres.
const (
	leastGap, mostGap = 1e-7, 0.5
	mostOffset        = 1.0
)

// Force is the pull between two upright magnets, magnetised the same way.
//
// Frame: the axis of the lower magnet; gap between the facing faces, offset
// between the axes. Range: gap 0.0001–500 mm, offset 0–1000 mm.
// Accuracy: 1e-4 relative or 1e-6 N, whichever is more, for gaps 0.5–40 mm and
// offsets 0–80 mm.
// Source: the fourfold integral over the charged discs, which equals the
// Bessel form of Vokoun et al., J. Magn. Magn. Mater. 321 (2009) 3758; here
// reduced to one integral over the lateral distance d with the lens area of
// the two discs as its density and the closed-form field of a charged ring.
func Force(lower, upper Cylinder, gap, offset unit.Length) (Pull, error) {
	if err := checkPlace(lower, upper, gap, offset); err != nil {
		return Pull{}, err
	}
	p := stacked(lower, upper, float64(gap))
	out, up := p.pull(float64(offset), float64(gap))
	return Pull{Axial: -up, Lateral: -out}, nil
}

func checkPlace(lower, upper Cylinder, gap, offset unit.Length) error {
	if err := lower.Check(); err != nil {
		return err
	}
	if err := upper.Check(); err != nil {
		return err
	}
	if err := within("gap", float64(gap), leastGap, mostGap); err != nil {
		return err
	}
	return within("offset", float64(offset), 0, mostOffset)
}

// SideBySide is the repulsion in newtons of two magnets standing upright on
// one plane, same poles up, their axes centres apart; attraction is negative.
// Range: not touching, up to 1000 mm. Accuracy 1e-4 relative or 1e-6 N.
// Source: direct integration over the charged discs, as in Force.
func SideBySide(a, b Cylinder, centres unit.Length) (float64, error) {
	if err := a.Check(); err != nil {
		return 0, err
	}
	if err := b.Check(); err != nil {
		return 0, err
	}
	touch := a.Radius() + b.Radius()
	if err := within("distance of the axes", float64(centres), touch*(1+1e-6), mostOffset); err != nil {
		return 0, err
	}
	p := level(a, b)
	out, _ := p.pull(float64(centres), float64(centres)-touch)
	return out, nil
}

// OnIron is the most a magnet can pull on soft iron, newtons: a thick, wide
// plate of endless permeability pulls like the magnet's own mirror image, the
// coaxial pair at a face gap of twice the air. A soft-iron disc or washer in a
// base pulls less: use this as an upper bound only. Range: air 0.0001–250 mm.
// Source: method of images; magpylib documentation, "Magnetic Holding Force".
func OnIron(c Cylinder, air unit.Length) (float64, error) {
	p, err := Force(c, c, 2*air, 0)
	return p.Axial, err
}
