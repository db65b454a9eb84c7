// SPDX-License-Identifier: Apache-2.0

package gamelog

// The numbers of this package that were set by hand: unit, meaning, how each was
// found, and what doubling it does.

// mostHeld bounds the records that wait for a game to begin: a table whose board is
// never set right goes on looking for hours. Reasoned: what people did in the last
// minutes. Doubled, the log of a late game begins earlier.
const mostHeld = 64

// lowRoom is when to say that little room is left on the disk, bytes: some twenty
// games, at the 11 MB that were measured for one of 80 plies. Doubled, it is said
// when forty would fit.
const lowRoom = 250 << 20
