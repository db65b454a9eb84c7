// SPDX-License-Identifier: Apache-2.0

package rehearsal

import "time"

// The numbers of this package that were set by hand: unit, meaning, how each was
// found, and what doubling it does.

// shownEnough is how often a part must have shown that it is at fault before anybody
// can be expected to name it: as often as a symptom must come before its cause is
// told. The twin counts, not the machine. Doubled, parts that were never named are
// left out of the count.
const shownEnough = 3

// shownByOne is the same of a magnet in one piece, which does each time what no sound one
// does twice. Of a hundred carries of a sound machine one or two go wrong, so that two of one
// piece, and none of others, tell by some hundreds to one. Doubled, a game in which the piece
// moves thrice is left out.
const shownByOne = 2

// shownOfAll is how many different pieces a fault that keeps all of them from coming along
// must have left behind: where it has been one alone, that one's magnet may be missing.
// Doubled, a lift that gives up in the last three moves is left out.
const shownOfAll = 2

// tellable is how many standard errors the best observer's answer must have an error of the
// frame away from none. Such an error is found in less than a tenth of hand-built machines,
// and is told at odds of four to one: that takes 3.3 of them, and at four three answers of
// four lie above that. Reasoned; doubled, a game of forty plies shows no frame of half a
// degree.
const tellable = 4.0

// usual is the standard deviation of each coefficient of a sound frame, m and shares, with
// what pictures add to it: of twelve sound games of the twin with trays, fitted to each one's
// ten carries. Doubled, less is shown.
var usual = [coefficients]float64{shiftX: 0.6e-3, shiftY: 0.6e-3, scaleX: 1.9e-3, scaleY: 1.9e-3, turn: 1.7e-3, leans: 1.7e-3}

// scatter is how far pieces lie from that fit, m per coordinate: 0.18 mm of the pieces and
// 0.23 mm of the pictures. besideAcross and besideAlong are the same of 28 pieces in the trays,
// across the board's edge and along it. Doubled, half as much is shown.
const (
	scatter      = 0.3e-3
	besideAcross = 1.4e-3
	besideAlong  = 0.7e-3
)

// Between two power cuts lie that many happenings: a move of each side has some forty
// , so that most games of a few dozen plies are cut in every state.
// Doubled, half as many cuts fall in a game.
const leastBetween, mostBetween = 3, 120

// longestArmed bounds how much motion is waited for when the power is to go while
// something moves, s: a carry takes some 5 s. Doubling it lets cuts fall on the second
// carry after the first is awaited.
const longestArmed = 8.0

// stuckAfter is how many pictures one move may take; a game that needs more is stuck.
// Reasoned: twenty times the three that a good move takes. Doubling it makes stuck games
// longer, and counts fewer slow ones.
const stuckAfter = 60

// blindAfter bounds how many pictures in a row may fail. Reasoned; doubling it ends a
// rehearsal with a dead camera later.
const blindAfter = 60

// pictureTime is the time from one picture to the next for a simulated controller: as
// the twin's camera has it. Doubled, nothing is seen.
const pictureTime = 200 * time.Millisecond

// mendTime is how long a person takes to look under the board, put a plug in and press
// Resume. Reasoned: longer than a plug stays out. Doubled, nothing is seen.
const mendTime = 5 * time.Second

// stuckMends is how often in one move a person lets the machine go on before the game
// counts as stuck. Reasoned: with a spoilt command in a hundred a move of three strokes
// and as many homings asks for it once or twice. Doubled, a dead machine is given up later.
const stuckMends = 12

// inSlot is how far from a slot's middle a piece still stands in it, m. Reasoned: half
// the radius of a base. Doubled, a piece that leans over its slot's edge counts as in it.
const inSlot = 0.006
