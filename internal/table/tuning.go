// SPDX-License-Identifier: Apache-2.0

package table

// The numbers of this package that were set by hand: unit, meaning, how each was
// found, and what doubling it does.

// sure is how many pictures in a row must show a position that the eye was told: a
// hand in one would give itself away in the next. Reasoned; doubled, each move taken
// back and each set-up ends two pictures later.
const sure = 2

// askAfter is how many settled pictures of a board that no reading explains the table
// looks at before it asks what single squares suggest: the guest may just be setting
// it right. Reasoned; doubled, a guest waits for three more looks to be asked.
const askAfter = 3

// clearly is the lead, in nats, from which an explanation by single squares is
// offered: twenty to one. Reasoned: what is offered is asked, not believed. Doubled it
// is hardly ever offered, since a single square says at most 6.9.
const clearly = 3.0

// likelier is the belief from which a move is likelier than everything else
// together, pieces that slipped on the way included. It is a definition.
const likelier = 0.5

// drawLimit is how many centipawns the machine must be ahead to play on when a draw is
// offered: less than half a pawn's worth (common practice, no source). Doubling it
// makes the machine agree while it still stands better.
const drawLimit = 40

// mends is how often the machine mends itself within one move before it waits for a
// person, or asks. Reasoned: what failed thrice in the same way fails again. Doubled, a
// broken part is tried twice as long.
const mends = 2

// mostElsewhere is how many pieces are measured, before and after a carry, that stand
// beside no way of it: what moves there is the pictures' doing. Reasoned: some eight
// stand beside a way. Doubled, a machine's move takes a tenth of a second longer.
const mostElsewhere = 6

// mostReplans is how often one move is planned anew because a piece was adjusted by a
// person: a guest who cannot get it straight is asked to make the move. Reasoned;
// doubled, the guest is asked to adjust as often again.
const mostReplans = 3

// mostAstray is how many squares may look like neither board, with the decided move
// half made: the one that a piece left halfway leans over. Reasoned; doubled, a board
// with one piece too many counts as the move's own.
const mostAstray = 1
