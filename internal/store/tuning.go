// SPDX-License-Identifier: Apache-2.0

package store

import "time"

// The numbers of this package that were set by hand: unit, meaning, how each was
// found, and what doubling it does.

// recount is how many bytes of pictures are added before those of unfinished
// games, which fill the room alone, are counted again: a game and a half. Reasoned;
// doubled, the room for pictures is overrun by up to 32 MB.
const recount = 16 << 20

// roomMade is how much is freed, bytes, on a disk that is full: about ten evenings'
// logs and PGN files, or two games' pictures (measured: 11 MB of pictures and 0.7 MB
// of log in a game of 80 plies). Doubled, older games lose their pictures sooner.
const roomMade = 24 << 20

// busyWait is how long a write waits for another process' write. Reasoned: a backup
// of a game takes less. Doubled, a game stands still for ten seconds before it says
// that its log cannot be written.
const busyWait = 5 * time.Second
