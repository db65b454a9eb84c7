// SPDX-License-Identifier: Apache-2.0

package front

// The numbers of this package that were set by hand: unit, meaning, how each was found,
// and what doubling it does.

// least and most are the radii, mm, of the marks of the fastest and the slowest rig: so that
// forty of them can be told apart on the width of a page. Doubled, they cover each other.
const least, most = 0.9, 2.4

// around is how far, mm, a ring lies around the mark of the first rig. Doubled, it covers
// others.
const around = 0.9

// room is what is left around the marks, as a share of the plot. Doubled, marks get nearer.
const room = 0.08

// The scale upwards, standard deviations: where a share lies of which all builds work, and
// the least that is told; highestFloor is the share that is always on it, and 1/mostLeft what
// lies between all and nearly all. Doubled, shares below all get nearer to each other.
const allWork, lowest, highestFloor, mostLeft = 3.6, -2.4, 0.9, 5.0
