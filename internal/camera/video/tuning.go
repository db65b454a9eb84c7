// SPDX-License-Identifier: Apache-2.0

package video

// The numbers of this package that were set by hand: unit, meaning, how each was
// found, and what doubling it does.

// mostListed bounds every list that a driver gives, so that a faulty one ends.
// Reasoned: cameras list some twenty sizes. Doubled, nothing.
const mostListed = 64

// bufferCount is how many pictures the driver keeps. Four are common practice (no
// source): one being filled, one ready, one being copied, one to spare. Doubled, a
// picture may be older by four.
const bufferCount = 4

// rateUnit is what a rate is a multiple of, in parts of a picture a second: rates such
// as 7.5 and 29.97 come near enough. Doubled, nearer.
const rateUnit = 100

// mostBroken is how many broken pictures in a row are passed over. Reasoned: one or two
// are common while a camera starts. Doubled, a bad cable is told of a second later.
const mostBroken = 30

// keptQuality is the JPEG quality of pictures that came as plain pixels. Reasoned: at 90
// what compression adds lies under a camera's own noise. Doubled (100), pictures take
// three times the room.
const keptQuality = 90
