// SPDX-License-Identifier: Apache-2.0

package game

// How exactly a person sets a piece on its square, one standard deviation a
// coordinate. Common practice, no source. Doubled, plans keep that much more
// room from pieces set by hand and ask for more to be set straight (reasoned).
const (
	HandShare = 0.04             // of a square: a careful hand
	HandSigma = HandShare * 0.04 // m: the same on a 40 mm square; a hand is no finer on a smaller one
)
