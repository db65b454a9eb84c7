package magnet

import (
	"math"

	"boardhand/internal/unit"
)

// OnIron is the most a magnet can pull on soft iron, newtons: a thick, wide
// plate of endless permeability pulls like the magnet's own mirror image, the
// coaxial pair at a face gap of twice the air. A soft-iron disc or washer in a
// foot pulls less: use this as an upper bound only. Range: air 0.0001–250 mm.
// Source: method of images; magpylib documentation, "Magnetic Holding Force".
func OnIron(c Cylinder, air unit.Length) (float64, error) {
	p, err := Force(c, c, 2*air, 0)
	return p.Axial, err
}

// Dipoles is the coaxial attraction of two magnets as point dipoles, newtons,
// z between centres in metres: 3μ0·m1·m2/(2πz⁴). Range: z over ten diameters
// for 1 %. Source: any electromagnetism text, e.g. Griffiths, Introduction to
// Electrodynamics.
func Dipoles(a, b Cylinder, z float64) float64 {
	return 3 * Mu0 * a.Moment() * b.Moment() / (2 * math.Pi * z * z * z * z)
}
