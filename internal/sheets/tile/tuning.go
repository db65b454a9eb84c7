// SPDX-License-Identifier: Apache-2.0

package tile

// Overlap is that of two neighbouring tiles, mm: room for glue or tape.
const Overlap = 10.0

// Strip is the room below a tile for its ruler, its number and the note, mm.
const Strip = 22.0

// Margin is what a printer may leave white at the edges, mm (common practice, no source:
// 4 to 5 mm).
const Margin = 8.0

// RulerLength is what the check ruler of every page at 1:1 measures, mm.
const RulerLength = 100.0

// Letter is the size of the smallest letters, mm: capitals 2.5 mm high, the least of ISO 3098.
// Doubled, words no longer fit.
const Letter = 3.65
