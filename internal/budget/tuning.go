// SPDX-License-Identifier: Apache-2.0

package budget

// The numbers of this package that were set by hand. Doubled, each makes its own
// tolerance twice as wide; what that does to a rig is what `assess --yield` says.

// usual are the tolerances of a machine of which nothing was measured: metres or shares,
// two standard deviations of a normal one and the ends of others.
var usual = [count]Tolerance{
	Placement:       {Key: "placement", Title: "carriage's place", Within: 0.5e-3, Shape: Normal, IsLength: true, Source: "a rule and a homing switch; common practice, no source"},
	Camera:          {Key: "camera", Title: "camera's doubt", Within: 0.5e-3, Shape: Normal, IsLength: true, Source: "measured on the twin: a quarter of a millimetre at one standard deviation"},
	Person:          {Key: "person", Title: "pieces set by hand", Within: 1.2e-3, Shape: Normal, IsLength: true, Source: "3 % of a square of 40 mm, a piece set straight; common practice, no source"},
	Glue:            {Key: "glue", Title: "magnet off its base's middle", Within: 0.3e-3, Shape: Uniform, IsLength: true, IsPiece: true, Source: "play of a drilled bore; common practice, no source"},
	Base:            {Key: "base", Title: "diameter of a base", Within: 0.2e-3, Shape: Normal, IsLength: true, IsPiece: true, Source: "turned or printed; common practice, no source"},
	Gap:             {Key: "gap", Title: "sheet, air and recess", Within: 0.3e-3, Shape: Normal, IsLength: true, Source: "sheets of wood and plastics; common practice, no source"},
	Field:           {Key: "field", Title: "board on the machine", Within: 0.8e-3, Shape: Uniform, IsLength: true, Source: "set by a rule; common practice, no source"},
	Hang:            {Key: "hang", Title: "camera's height", Within: 12e-3, Shape: Uniform, IsLength: true, Source: "a shelf bracket set by eye; common practice, no source"},
	Mass:            {Key: "mass", Title: "mass of a piece", Within: 0.05, Shape: Normal, IsPiece: true, Source: "turned wood of one batch; common practice, no source"},
	Friction:        {Key: "friction", Title: "friction of the board", Within: 0.20, Shape: Normal, Source: "chestnut 0.36–0.55 about 0.46: Villar-García et al., Int. Agrophysics 34 (2020) 65"},
	Pads:            {Key: "pads", Title: "friction of one base", Within: 0.10, Shape: Normal, IsPiece: true, Source: "half the spread of specimens of one wood, same source"},
	RemanenceLift:   {Key: "remanence.lift", Title: "drive magnet's remanence", Shape: Uniform, Source: "its grade, makers' tables"},
	RemanencePieces: {Key: "remanence.pieces", Title: "base magnets' remanence", Shape: Uniform, Source: "their grade, makers' tables"},
	Discs:           {Key: "discs", Title: "remanence within a batch", Within: 0.02, Shape: Normal, IsPiece: true, Source: "common practice, no source"},
	Model:           {Key: "model", Title: "forces against the formula", Within: 0.15, Shape: Normal, Source: "within about 15 %: Vokoun and Beleggia, J. Magn. Magn. Mater. 350 (2014) 174"},
	Spring:          {Key: "spring", Title: "spring's preload", Within: 0.20, Shape: Normal, Source: "set by hand; common practice, no source"},
	Motor:           {Key: "motor", Title: "motor's torque", Within: 0.10, Shape: Normal, Source: "motor line good to 10 %; common practice, no source"},
}

// personShare is the usual tolerance of a piece set by hand as a share of the square:
// common practice, no source.
const personShare = 0.03

// mostFall is how far down, as a share, a draw may take a quantity: a normal one has no
// end, and no piece weighs nothing. Any number near 1 does.
const mostFall = 0.9

// leftOver is the share of the backlash that stays when it is taken up: as in assess.
const leftOver = 0.25

// tailSigmas is how far out, in standard deviations, the largest of some normal ones is looked
// for, and largestSteps in how many steps: a fifth of a standard deviation each, where the sum
// over a smooth curve is exact to four digits. Doubled, nothing changes but the time it takes.
const tailSigmas, largestSteps = 6.0, 64

// leastEven is the width, in standard deviations, below which something evenly spread counts for
// nothing: any small number does.
const leastEven = 1e-3

// leastSigma stands for no deviation at all, a share or metres: any number near nothing does.
const leastSigma = 1e-9

// sizeSigmas is how far out, in standard deviations, the size of a normal error is looked at,
// sizeSteps in how many steps, and halvings how often the way to a quantile is halved: to a
// micrometre. Doubled, nothing changes but the time it takes.
const sizeSigmas, sizeSteps, halvings = 4.0, 16, 16
