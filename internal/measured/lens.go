// SPDX-License-Identifier: Apache-2.0

package measured

import (
	"boardhand/internal/frame"
	"boardhand/internal/optics"
	"boardhand/internal/rig"
)

// Lens is what pictures of a printed checkerboard told of the camera's lens, each with its
// standard deviation; without pictures the maker went on without it.
type Lens struct {
	When     string `toml:"date"`
	Pictures int    `toml:"pictures,omitzero"`
	Image    [2]int `toml:"image,omitzero"` // px, of the pictures: another size is another lens

	Focal      [2]float64 `toml:"focal_px,omitzero"`
	Centre     [2]float64 `toml:"centre_px,omitzero"`
	Radial     [2]float64 `toml:"radial,omitzero"`
	Decentring [2]float64 `toml:"decentring,omitzero"`

	FocalSigma      [2]float64 `toml:"focal_sigma_px,omitzero"`
	CentreSigma     [2]float64 `toml:"centre_sigma_px,omitzero"`
	RadialSigma     [2]float64 `toml:"radial_sigma,omitzero"`
	DecentringSigma [2]float64 `toml:"decentring_sigma,omitzero"`
	// Correlation of fx, fy, the centre's x and y, both radial and both decentring terms, strictly below the
	// diagonal, row by row; all 0 where it was not kept.
	Correlation [28]float64 `toml:"correlation,omitzero"`
	RMS         float64     `toml:"rms_px,omitzero"` // by which corners are off
}

// LensOf is the figures of a calibration.
func LensOf(c optics.Calibration, image [2]int, when string) *Lens {
	l, s := c.Lens, c.Sigma
	out := &Lens{When: when, Pictures: len(c.Views), Image: image, RMS: c.RMS,
		Focal: [2]float64{l.Fx, l.Fy}, Centre: [2]float64{l.Cx, l.Cy}, Radial: [2]float64{l.K1, l.K2}, Decentring: [2]float64{l.P1, l.P2},
		FocalSigma: [2]float64{s.Fx, s.Fy}, CentreSigma: [2]float64{s.Cx, s.Cy}, RadialSigma: [2]float64{s.K1, s.K2}, DecentringSigma: [2]float64{s.P1, s.P2}}
	copy(out.Correlation[:], c.Correlation)
	return out
}

// IsKnown says whether a lens was measured.
func (l *Lens) IsKnown() bool { return l != nil && l.Pictures > 0 }

// Prior is what is known of the lens: with it a fit to a picture of the board is one to that picture
// and those of the checkerboard together. Without the correlations both focal lengths count as
// one, for both are off alike.
func (l *Lens) Prior() optics.Prior {
	p := optics.Prior{Square: true,
		Lens: optics.Lens{Fx: l.Focal[0], Fy: l.Focal[1], Cx: l.Centre[0], Cy: l.Centre[1], K1: l.Radial[0], K2: l.Radial[1], P1: l.Decentring[0], P2: l.Decentring[1]},
		Sigma: optics.Lens{Fx: max(l.FocalSigma[0], l.FocalSigma[1]), Cx: l.CentreSigma[0], Cy: l.CentreSigma[1], K1: l.RadialSigma[0], K2: l.RadialSigma[1],
			P1: l.DecentringSigma[0], P2: l.DecentringSigma[1]}}
	if l.Correlation != [28]float64{} {
		p.Square, p.Sigma.Fy, p.Correlation = false, l.FocalSigma[1], l.Correlation[:]
		p.Sigma.Fx = l.FocalSigma[0]
	}
	return p
}

// View is the camera with its lens, and where it hung, as far as that was measured; nil where the
// lens was not, or in pictures of another size. A camera that has been turned round since, by
// what the rig file says, hangs where the rig file has it.
func (f *File) View(r *rig.Rig) *optics.View {
	if !f.Lens.IsKnown() || f.Lens.Image != r.Camera.Image {
		return nil
	}
	v, err := optics.Nominal(r.Camera.Image, float64(r.Camera.HFOV), float64(r.Camera.Height), r.Camera.WhiteSide)
	if err != nil {
		return nil
	}
	v.Lens = f.Lens.Prior().Lens
	c := f.Camera
	if c == nil || c.Turn == [3]float64{} {
		return &v
	}
	turn := frame.FromVector(c.Turn)
	if along := turn.Mul(v.CameraFromBoard.R.Transpose()); along[0][0]+along[1][1] < 1 { // of 2 where both lie alike in the picture
		return &v
	}
	v.CameraFromBoard = frame.Pose[frame.Camera, frame.Board]{R: turn}
	at := v.CameraFromBoard.Apply(frame.Point[frame.Board]{X: float64(c.X), Y: float64(c.Y), Z: float64(c.Height)})
	v.CameraFromBoard.T = frame.Point[frame.Camera]{X: -at.X, Y: -at.Y, Z: -at.Z}
	return &v
}
