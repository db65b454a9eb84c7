// SPDX-License-Identifier: Apache-2.0

package main

// starts are positions that bring castling, en passant and promotions within
// a few moves; composed for these scenes.
var starts = []string{
	"r3k2r/pppq1ppp/2npbn2/2b1p3/2B1P3/2NPBN2/PPPQ1PPP/R3K2R w KQkq - 0 9",
	"6k1/PP1r1ppp/2n5/8/8/2N5/1p3PPP/R5K1 w - - 0 30",
	"8/1P1k4/8/2p2n2/5N2/4K3/1p6/8 w - - 0 50",
	"rnbqkbnr/ppp2ppp/4p3/3pP3/8/8/PPPP1PPP/RNBQKBNR w KQkq d6 0 3",
	"r1bq1rk1/pp2bppp/2n1pn2/2pp4/3P1B2/2PBPN2/PP1N1PPP/R2QK2R w KQ - 0 8",
	"r3k2r/p1pp1pb1/1pn2np1/4p3/1PP1P3/2N2NP1/PB1P1PBP/R3K2R w KQkq - 0 11",
	"4k3/1p1p1p1p/8/P1P1P1P1/p1p1p1p1/8/1P1P1P1P/4K3 w - - 0 20",
	"2r3k1/P4p1p/6p1/8/8/6P1/p4P1P/2R3K1 w - - 0 33",
}

// startFEN is the start of a game.
const startFEN = "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1"

// drawStart draws where the session's game begins.
func drawStart(d dice) string {
	if d.chance(0.4) {
		return startFEN
	}
	return one(d, starts...)
}

// nearPromotion are positions with pawns before their last step.
var nearPromotion = []string{
	"6k1/PP1r1ppp/2n5/8/8/2N5/1p3PPP/R5K1 w - - 0 30",
	"8/1P1k4/8/2p2n2/5N2/4K3/1p6/8 w - - 0 50",
	"2r3k1/P4p1p/6p1/8/8/6P1/p4P1P/2R3K1 w - - 0 33",
	"1n3rk1/P1P2ppp/3b4/8/8/3B4/p1p2PPP/1N3RK1 w - - 0 28",
	"r4rk1/1P3pp1/2p4p/8/4n3/2N2N2/1p3PPP/R4RK1 b - - 0 26",
}

// middleGames are positions within a few moves of castling, en passant and
// captures; composed for these scenes.
var middleGames = []string{
	starts[0], starts[3], starts[4], starts[5], starts[6],
	"r2q1rk1/1b2bppp/p1n1pn2/1pp5/3P4/1BN1PN2/PP2QPPP/R1BR2K1 w - - 0 12",
	"2kr3r/pppq1pp1/2np1n1p/2b1p3/2B1P1b1/2NP1N1P/PPPBQPP1/R3K2R w KQ - 0 10",
	"r1b2rk1/pp3ppp/2n1pn2/q1bp4/2P5/P1N1PN2/1PQ1BPPP/R1B1K2R w KQ - 0 9",
}
