// SPDX-License-Identifier: Apache-2.0

package trial

// mostSteps is how far a knob turns each way, in its steps: what a maker tries before building
// another machine, and a slider that a thumb can set. Found by trying; doubled, a step of a slider
// is a pixel or two on a phone.
const mostSteps = 20

// mostValues is how many values of one knob are named beside its slider: a line's worth. Doubled,
// they push its name onto two lines.
const mostValues = 3
