// SPDX-License-Identifier: Apache-2.0

package background

import "boardhand/internal/sight/light"

// The tuned numbers of this package: value, unit, meaning, and how they were found where that
// is on record. What halving (×½) and doubling (×2) did to the gate's card stands beside those
// that have been varied (docs/sensitivity.md, where some have older names); `make score-vary`
// varies them all anew.

const (
	lightBins   = 32
	colourBins  = 24
	colourCells = lightBins * colourBins * colourBins
	// OutlierShare is the share of pixels that follow no model (glints, coding
	// artefacts, dust), spread evenly over all colours.
	OutlierShare = 0.02
)

const (
	fitRounds  = 6   // re-weightings: the weights settle in four or five
	tailSigmas = 2.5 // in σ: residuals beyond this lose weight as 1/r² (Cauchy)
	// The least robust σ assumed, in logarithm: quieter pictures would make
	// the weights hang on the coding noise.
	leastSigma = 0.015
)

// ridge keeps coefficients the picture does not determine near zero.
const ridge = 1e-4

// colour-model memory from picture to picture.
const (
	keepColours = 0.9 // of the histograms per settled picture: ten pictures' memory
)

// KeepShadows is what earlier pictures count against the one looked at, whose
// shadows are the ones in question.
const KeepShadows = 0.5

// The frame of the histogram: departures of ln brightness and of both log
// colour ratios.
const (
	shadowBins    = 20
	tintBins      = colourBins
	shadowFrom    = -1.7
	shadowTo      = 0.5
	tintMost      = 0.5
	shadowStep    = (shadowTo - shadowFrom) / shadowBins
	shadowCells   = shadowBins * tintBins * tintBins
	shadowFlat    = 1 / ((shadowTo - shadowFrom) * 4 * tintMost * tintMost)
	shadowUnknown = 0.05 // share of shadows unlike any seen so far
	// One square can have no more than this share of what is learnt: an
	// unknown piece on it must not teach the reader to take pieces for shadows.
	shadowSquare = 0.04
)

const (
	// ×½: surprise +36 %, offsets −3 %; ×2: surprise +9 %, offsets −3 %, unexplained −8 %
	RegistrationSigma = 0.20 // pixels of registration and touch left over, σ
	// ×½: surprise +2 %, offsets +6 %; ×2: surprise +42 %, offsets +44 %, unexplained +90 %
	ColourNoise = 1.5 // noise of a log ratio over that of the brightness: two channels, coarser coding
	// ×½: the worst offsets +6 %; ×2: surprise +7 %, the worst offsets +9 %
	plainDistance = 4.0 // squared distance in σ below which no shadow is considered
	// ×½: surprise +41 %, offsets +27 %, unexplained +29 %; ×2: surprise +41 %, offsets +21 %, unexplained −15 %
	changedShare = 0.4 // prior share of a pixel in another light than before
	// ×½: offsets +9 %, unexplained +11 %; ×2: surprise −4 %, offsets +16 %, unexplained −10 %
	castShare = 0.15 // share of those in a lamp's own shadow; the others in a faint one
	// ×½: surprise +30 %, offsets +14 %; ×2: surprise +41 %, offsets +14 %
	faintChange = 0.04 // mean change of the brightness logarithm there: a person near the lamp
	// ×½: surprise −3 %, offsets +34 %; ×2: surprise +14 %, offsets +22 %, unexplained +9 %
	ShadowDeepest = -0.8 // a changed shadow's change of the brightness logarithm: from a lamp's core shadow …
	// ×½: surprise +42 %, offsets +11 %, unexplained +318 %; ×2: surprise +33 %, offsets +12 %, unexplained −30 %
	shadowBright = 0.45 // … to light where a shadow was
	// ×½: surprise −3 %, offsets +13 %, unexplained +37 %; ×2: surprise −4 %, offsets +6 %, unexplained −34 %
	shadowSigma = 0.03 // how far a shadow departs from its neighbourhood's mean
	// ×½: surprise +3 %, offsets +19 %, unexplained −15 %; ×2: surprise −3 %, offsets +5 %, unexplained +25 %
	shadowRadius = 4 // pixels over which a shadow is even: 5 mm
	// A round piece turns dark on one side and light on the other when a lamp is
	// hidden: no neighbourhood's mean tells by how much, only the colour stays.
	// ×½: offsets +6 %; ×2: offsets +4 %, unexplained +5 %
	attachedShare = 0.1
	// ×½: surprise +39 %, offsets +29 %, unexplained +27 %; ×2: surprise +17 %, offsets +48 %, unexplained −13 %
	lightTint = 0.01 // the colours' change when only some of the light is taken away
	// ×½: the worst offsets +10 %; ×2: +6 %
	attachedTint     = 0.10
	ShadowTintSpread = 0.30 // how far the colours' change with the brightness varies from shadow to shadow
	// changeColour bounds a neighbourhood's change of each log colour ratio.
	changeColour = 0.25
)

// ShadowFaintest is the change of the brightness logarithm from which a shadow is a clear one.
const ShadowFaintest = -light.Changed

// veiledLeast is how much of a first picture's board must lie under reflections, in squares,
// before any is taken out: a piece's own shine is smaller.
const veiledLeast = 1.0

// nudgeSigma is the registration error of a nudged piece's picture, image
// pixels: its head moves a little more than its base.
// ×2: the worst offsets +10 %
const nudgeSigma = 0.4

// patchSpread is how far a piece may look otherwise, in logarithms, σ, than in a picture that
// was brought from another light: as much as pieces of one side differ.
const patchSpread = 0.15
