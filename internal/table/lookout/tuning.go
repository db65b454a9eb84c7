// SPDX-License-Identifier: Apache-2.0

package lookout

// The numbers of this package that were set by hand: unit, meaning, how each was
// found, and what doubling it does.

// sure is how many pictures in a row must show the board clear before the carriage goes
// on, or a thing on its way before it is told of: one may fall between two reaches of a
// hand. Reasoned, as the table's; doubled, each visit of a hand costs 0.4 s more.
const sure = 2

// handAfter is how many pictures in a row show the hand before the guest is told what to do:
// three seconds at five a second, as where the table waits. Doubled, a guest who
// does not know that the machine waits finds out later.
const handAfter = 15

// longest is how many pictures a stroke is held before it is given up and planned anew:
// twelve seconds. Reasoned: a move is thought over in the air for a few; whatever stays
// longer lies there, and what a person may ask for must be open to them again. Doubled,
// they wait for that twice as long.
const longest = 60

// pieceSeen is how far about the foot of the carried piece, in squares, pictures show
// it: half its base, and its head, which leans by up to half a square towards the picture's
// rim where the camera hangs as low as a rig may have it. Doubled, what lies two squares
// ahead is run into.
const pieceSeen = 0.8

// spare is how near the carried piece, in squares, another may come besides where both have
// bases of one size: what a hand that puts a piece down may be off. Doubled, a
// piece on the next file holds the carriage up.
const spare = 0.1
