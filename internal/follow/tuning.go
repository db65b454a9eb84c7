// SPDX-License-Identifier: Apache-2.0

package follow

// The numbers of this package that were set by hand: unit, meaning, how each was
// found, and what doubling it does.

// stuckPictures is how many pictures in a row, without a hand, may differ before it is
// told: the guest puts right in between what was only half done. Reasoned; doubled, a
// reader that has lost the game is noticed three pictures later.
const stuckPictures = 3

// restingPictures is how many pictures in a row may show a hand before it is told that there may be
// none: one that rests is in a few, a dark or noisy picture that is taken for one stays so. Reasoned;
// doubled, a camera in the dark is noticed as many pictures later.
const restingPictures = 10

// mostMissed is how many plies are looked for at once where no single move explains a
// picture. More have more orders than a picture can tell apart; doubled, a board that no rule
// explains takes as much longer.
const mostMissed = 6

// frozenPictures is how many pictures in a row may be the same to the byte before the
// camera is taken to hang: some servers send each a few times. Reasoned; doubled, one that
// hangs is told of as many pictures later, a second or two over the network.
const frozenPictures = 10
