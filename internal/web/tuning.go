// SPDX-License-Identifier: Apache-2.0

package web

import "time"

// The numbers of this package that were set by hand: unit, meaning, how each was
// found, and what doubling it does.

// codeLength is how many letters an access code has, and triesEach and triesAll how
// many wrong ones are looked at in triesTime, from one address and in all. A code of
// six has 7·10⁸ values: at sixty a minute half of them take eleven years. A letter
// less, five months.
const (
	codeLength          = 6
	triesEach, triesAll = 6, 60
	triesTime           = time.Minute
)

// largestPost is more than any of our posts needs, bytes. Reasoned; doubled, nothing
// is taken that was not.
const largestPost = 1 << 10

// headerTime bounds how long a caller may take to send its request line
// and headers; longer than any home network needs. Doubled, callers that say nothing
// hold their connections twice as long.
const headerTime = 5 * time.Second

// idleTime is how long a connection may stay open without a call. Reasoned; doubled,
// pages left open cost twice as many connections.
const idleTime = time.Minute

// farewell is how long open pages get to take their leave at the end. Reasoned;
// doubled, a program that is stopped ends up to two seconds later.
const farewell = 2 * time.Second

// beat is how often a stream says that it lives: a page that hears nothing
// for three of them says that the machine cannot be reached. Doubled, it says so
// after six seconds.
const beat = time.Second

// patience is how long one write to a page may take before the server
// hangs up; the page then reconnects and gets a fresh snapshot. Reasoned; doubled, a
// page that fell asleep holds its connection twice as long.
const patience = 5 * time.Second

// logKept is how many lines a page that joins late gets: a few games' worth
// of what a maker scrolls through, and some 30 kB on the wire. Doubled, twice that.
const logKept = 300

// stoppedShort is how far from its path's end a carriage may report itself
// and still count as arrived, mm: more than any backlash a maker would keep,
// less than a square's half. Doubled, a piece is shown on its square that was left on
// the line.
const stoppedShort = 3.0

// The thinking times that a page may ask for, s: ten minutes a move is slower than
// any game is played over a board. page/requests.js has these bounds too.
const leastTime, mostTime = 0.1, 600

// headShare is how wide a piece's head is drawn against its base: turned
// pieces narrow to about half (common practice, no source). It only shapes
// the drawing; the reader has its own outlines.
const headShare = 0.5

// roundness is the number of corners of a drawn circle: at 24 the chord
// is 0.9 % of the radius inside the circle, less than a line's width.
const roundness = 24
