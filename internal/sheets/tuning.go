// SPDX-License-Identifier: Apache-2.0

package sheets

import "boardhand/internal/sheets/tile"

// The frame of a sheet, mm: the margins of ISO 5457, wider on the left where sheets are filed.
const marginLeft, margin = 20.0, 10.0

// The title block, mm: 180 wide as ISO 7200 has it, so that it spans an upright A4.
const blockWidth, blockHeight, blockRow = 180.0, 30.0, 10.0

// letter is the size of the smallest letters, mm: capitals 2.5 mm high, the least of ISO 3098.
// large is that of dimensions and titles in the block: capitals of 3.5 mm.
const letter, large = tile.Letter, 5.1

// Between dimension lines, and from a view to the first, mm (ISO 129-1 asks for at least 7 and
// for 10).
const dimensionStep, dimensionFirst = 8.0, 10.0

// arrow is the length of a dimension's arrow head, mm; its half width is a sixth.
const arrow = 2.5

// beyond is how far an extension line goes over its dimension line, mm (ISO 129-1: 8 widths of
// the line).
const beyond = 2.0

// lineStep is from one line of running text to the next, mm: a quarter more than the letters'
// size. Doubled, lists take twice the pages.
const lineStep = 4.6

// wireStep is from one lead of the wiring plan to the next, mm: two lines of text and air.
const wireStep = 13.0

// sheetGap is between two stock sheets drawn on one, mm; room for their caption.
const sheetGap = 12.0

// plateRoom is left around the carriage's plate, mm: for diameters beside the holes. plateText is
// how wide a list of them is written: it fits on every paper.
const plateRoom, plateText = 20.0, 150.0

// boomWide is the thickness of the boom as it is drawn, and cameraHigh that of the camera, mm of
// the machine. Common practice, no source; doubled, they look heavier.
const boomWide, cameraHigh = 20.0, 10.0

// discGap is between two discs on a page of bases, and captionHigh what its caption takes, mm.
const discGap, captionHigh = 1.0, 6.0
