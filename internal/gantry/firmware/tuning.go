// SPDX-License-Identifier: Apache-2.0

package firmware

import "time"

// The numbers of this package that were set by hand: unit, meaning, how each was
// found, and what doubling it does.

const (
	// tick is how often the motors get their counts while the machine moves: what
	// hangs on them sees nothing between. Common practice, no source; doubled,
	// switches are noticed later, by 0.1 mm at 100 mm/s.
	tick = time.Millisecond
	// longestLine is how many bytes a line may have without its end: from memory of
	// the open firmware. Doubled, longer lines pass.
	longestLine = 80
	// writeTime is how long writing a lasting setting takes, in which every byte is
	// lost: about six bytes of 3.3 ms each on the usual chip, from memory. Doubled,
	// a driver that does not wait loses more.
	writeTime = 20 * time.Millisecond
	// soonAfter is how soon after the queue ran dry a further block shows that the
	// stroke was not over. Far more than any answer takes on the way, far less than
	// a person; common practice, no source. Doubled, pauses between two strokes that
	// no sync parts would count.
	soonAfter = 250 * time.Millisecond
	// offsetsEach is how many reports come from one with the work offset to the
	// next: from memory of the open firmware (10 at rest, 30 in motion).
	offsetsEach = 10
	// seekShare and locateShare are the longest ways to look for a switch, of the
	// travel and of the pull-off (repository gnea/grbl, doc/markdown).
	seekShare, locateShare = 1.5, 5
)
