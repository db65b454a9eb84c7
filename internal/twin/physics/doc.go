// SPDX-License-Identifier: Apache-2.0

// Package physics is what happens to the twin's pieces: discs with mass,
// friction and magnets that a drive magnet under a warped board pulls along,
// that push each other, catch on something sticky, tip over, fall down the
// trapdoor or over the edge.
//
// It is given where the magnet is and tells what the pieces do and with what
// force they hold it; it knows no motors, no camera and no person. Events go to
// whoever counts them. Board frame, SI units. Chance comes in as a stream.
package physics
