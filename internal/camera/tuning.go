// SPDX-License-Identifier: Apache-2.0

package camera

import "time"

// The numbers of this package that were set by hand: unit, meaning, how each was
// found, and what doubling it does.

// largestPicture bounds one file, bytes: a 50-megapixel JPEG stays below. Doubled, a
// folder with something else in it takes more memory before it is refused.
const largestPicture = 64 << 20

// largestUnpacked bounds a picture in memory, bytes, so that a small file cannot claim
// to be a huge one: 50 megapixels of four colours. Reasoned: a quarter of the memory of
// the smallest computers that this runs on. Doubled, one picture may take half of it.
const largestUnpacked = 200 << 20

// Times of a stream. Reasoned: small cameras start in some seconds, and send several
// pictures a second. Doubled, people hear later of a camera that is gone.
const (
	connectTime = 10 * time.Second // to answer at all
	silence     = 5 * time.Second  // without a picture: the camera is taken for dead
	retry       = time.Second      // before the next try to connect
)

// wantedRate is how many pictures a second a camera on this computer is asked for.
// Reasoned: reading looks at some five, and USB carries ten of them at any size.
// Doubled, more of the processor goes into pictures that nobody looks at.
const wantedRate = 10

// settling is how many pictures pass before a camera's exposure, white balance and
// focus are held, and before any is handed over: two seconds at wantedRate. Common
// practice, no source. Doubled, a game begins two seconds later.
const settling = 2 * wantedRate
