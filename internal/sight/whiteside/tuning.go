// SPDX-License-Identifier: Apache-2.0

package whiteside

// The numbers of this package, set by hand for pictures in which nothing has been learnt yet.
const (
	leastRelief = 0.02 // of the logarithm of brightness: that of a plain square and its grain
	usualSpread = 0.3  // of a class of squares about its median, logarithm of brightness or relief
	mostScatter = 3.0  // nats that one square can cost
	// White pieces were brighter than black ones by 0.4 and more in all sets drawn; a nat for
	// each usualBrighter of it, up to mostBrighter on each ground.
	usualBrighter = 0.05
	mostBrighter  = 8.0
)
