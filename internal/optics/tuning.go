// SPDX-License-Identifier: Apache-2.0

package optics

// The numbers of this package that were set by hand: unit, meaning, how each was
// found, and what doubling it does.

// behind is the residual, px, of a corner that the trial view cannot see:
// larger than any picture, so that the fit turns back. Doubled, it turns back as well.
const behind = 1e5

// A calibration runs until the cost falls by less than a part in 10¹², below
// what a corner's rounding changes; a fit to one picture to a part in 10⁷,
// which moves no prediction by a thousandth of a pixel. Doubled, neither changes.
const (
	calibrationTolerance = 1e-12
	fitTolerance         = 1e-7
)

// fitSteps bounds the iterations: from a good start five to ten do. Doubled, a hopeless
// start takes twice as long to be given up.
const fitSteps = 60

// The widths of difference quotients: of focal length and centre, px, and of everything
// else (radians, metres, distortion). Residuals are of the order of a pixel and bend
// over a radian or a focal length, so truncation and rounding both stay near a part in
// 10⁷. Doubled, they still do.
const pixelStep, smallStep = 1e-4, 1e-7

// Undistortion stops when the distorted guess is within rayTolerance of the
// pixel: 1e-12 of the focal length is 1e-9 px, below any use. Newton's method
// doubles its digits each step, so raySteps are plenty inside the fold.
const (
	rayTolerance = 1e-12
	raySteps     = 25
)

// Where a lens folds is looked for up to r² = foldLimit, 76° off the axis: beyond any
// lens of this model. foldSteps lie closer near the
// axis. How many are needed is not recorded; halved, a lens that folds and unfolds
// between two of them would pass.
const foldLimit, foldSteps = 16.0, 256

// scaleReach is over how much, each way, the local scale is taken, m. Doubled, it is
// that of a place twice as wide.
const scaleReach = 0.5e-3

// How a board is warped: up to the fifth order, which is a wave and a half from rim to rim; the ways of
// the second order have a quarter of the warp from peak to valley each as a standard deviation, so that all
// together come to about the warp (drawn: TestWarpedHasItsWarp). Doubled, a camera over a board
// that is flatter is told half as well at most; the corners tell the shape by themselves.
const warpOrders, warpShare = 5, 0.25
