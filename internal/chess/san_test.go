// SPDX-License-Identifier: Apache-2.0

package chess

import (
	"strings"
	"testing"
)

func TestSAN(t *testing.T) {
	for _, c := range []struct{ fen, uci, san string }{
		{startFEN, "g1f3", "Nf3"},
		{startFEN, "e2e4", "e4"},
		{kiwipete, "e1g1", "O-O"},
		{kiwipete, "e1c1", "O-O-O"},
		{kiwipete, "d5e6", "dxe6"},
		{"4k3/8/8/3pP3/8/8/8/4K3 w - d6 0 1", "e5d6", "exd6"},
		{"4k3/P7/8/8/8/8/8/4K3 w - - 0 1", "a7a8q", "a8=Q+"},
		{"1r2k3/P7/8/8/8/8/8/4K3 w - - 0 1", "a7b8n", "axb8=N"},
		{"6k1/5ppp/8/8/8/8/8/R3K3 w - - 0 1", "a1a8", "Ra8#"},
		// Like pieces: by file, by rank, by both (FIDE, appendix C.10).
		{"4k3/8/8/8/8/5N2/8/1N2K3 w - - 0 1", "b1d2", "Nbd2"},
		{"4k3/8/8/1N6/8/8/8/1N2K3 w - - 0 1", "b5c3", "N5c3"},
		{"6k1/8/8/8/8/Q6Q/8/4K3 w - - 0 1", "a3d3", "Qad3"},
		{"1k6/8/8/8/4Q2Q/8/8/K6Q w - - 0 1", "h4e1", "Qh4e1"},
		// A pinned piece does not need telling apart.
		{"4k3/8/8/8/1b6/2N5/8/4K1N1 w - - 0 1", "g1e2", "Ne2"},
	} {
		p := mustFEN(t, c.fen)
		m, err := p.ParseUCI(c.uci)
		if err != nil || p.SAN(m) != c.san {
			t.Errorf("%s: %s is %q (%v), want %q", c.fen, c.uci, p.SAN(m), err, c.san)
		}
	}
}

func TestSANReadsTheFormsPeopleWrite(t *testing.T) {
	for _, c := range []struct{ fen, text, uci string }{
		{kiwipete, "0-0", "e1g1"},
		{kiwipete, "0-0-0", "e1c1"},
		{kiwipete, "dxe6!?", "d5e6"},
		{kiwipete, "de6", "d5e6"},
		{kiwipete, "Ne5xd7", "e5d7"},
		{startFEN, "e2-e4", "e2e4"},
		{startFEN, "e2e4", "e2e4"},
		{startFEN, "Ng1-f3", "g1f3"},
		{"4k3/8/8/3pP3/8/8/8/4K3 w - d6 0 1", "exd6 e.p.", "e5d6"},
		{"4k3/8/8/3pP3/8/8/8/4K3 w - d6 0 1", "exd6e.p.", "e5d6"},
		{"4k3/P7/8/8/8/8/8/4K3 w - - 0 1", "a8Q", "a7a8q"},
		{"4k3/P7/8/8/8/8/8/4K3 w - - 0 1", "a8=R+", "a7a8r"},
		{"6k1/5ppp/8/8/8/8/8/R3K3 w - - 0 1", "Ra8++", "a1a8"},
	} {
		p := mustFEN(t, c.fen)
		if m, err := p.ParseSAN(c.text); err != nil || m.String() != c.uci {
			t.Errorf("%s: %q reads as %s (%v), want %s", c.fen, c.text, m, err, c.uci)
		}
	}
}

func TestMovesSayWhyTheyAreIllegal(t *testing.T) {
	const pinned = "4k3/8/8/8/1b6/2N5/8/4K1N1 w - - 0 1"
	for _, c := range []struct{ fen, text, says string }{
		{startFEN, "e2", "two squares"},
		{startFEN, "e2e9", "no square"},
		{startFEN, "e2e4k", "q, r, b or n"},
		{startFEN, "e4e5", "e4 is empty"},
		{startFEN, "e7e5", "it is white's move"},
		{startFEN, "d1e2", "white's own pawn stands on e2"},
		{startFEN, "e2e5", "the pawn on e2 does not reach e5"},
		{startFEN, "f1b5", "the bishop on f1 does not reach b5"},
		{startFEN, "e1g1", "white's own knight stands on g1"},
		{startFEN, "e2e4q", "only a pawn on the last rank"},
		{"4k3/P7/8/8/8/8/8/4K3 w - - 0 1", "a7a8", "must be promoted"},
		{pinned, "c3d5", "white's king would be in check"},
		{"4k3/8/8/8/8/8/8/4K2R w - - 0 1", "e1g1", "no right to castle kingside"},
		{"4k3/8/8/8/8/8/8/4KN1R w K - 0 1", "e1g1", "a piece stands on f1"},
		{"4kr2/8/8/8/8/8/8/4K2R w K - 0 1", "e1g1", "across f1, which is attacked"},
		{"4k1r1/8/8/8/8/8/8/4K2R w K - 0 1", "e1g1", "in check on g1"},
		{"4k3/8/8/8/8/8/4r3/4K2R w K - 0 1", "e1g1", "out of check"},
		{startFEN, "Nd4", "no white knight can move to d4"},
		{startFEN, "hello", "not a move in algebraic notation"},
		{startFEN, "O-O", "a piece stands on f1"},
		{pinned, "Nd5", "white's king would be in check"},
		{"4k3/P7/8/8/8/8/8/4K3 w - - 0 1", "a8", "must be promoted"},
		{"4k3/8/8/8/8/5N2/8/1N2K3 w - - 0 1", "Nd2", "ambiguous: Nbd2 or Nfd2"},
	} {
		p := mustFEN(t, c.fen)
		_, err := p.ParseUCI(c.text)
		if c.text[0] >= 'A' && c.text[0] <= 'Z' || c.text == "hello" || c.text == "a8" {
			_, err = p.ParseSAN(c.text)
		}
		if err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %q: %v; want %q", c.fen, c.text, err, c.says)
		}
	}
}

func FuzzMoves(f *testing.F) {
	for _, text := range []string{"e4", "Nf3", "O-O", "0-0-0", "exd6 e.p.", "e8=Q+", "e7e8q", "e2e4", "Qh4e1#", "0000"} {
		f.Add(text, uint8(len(text)))
	}
	f.Fuzz(func(t *testing.T, text string, which uint8) {
		p := mustFEN(t, perftCases[int(which)%len(perftCases)].fen)
		if m, err := p.ParseSAN(text); err == nil && !p.Legal(m) {
			t.Fatalf("%q reads as the illegal %s", text, m)
		}
		if m, err := p.ParseUCI(text); err == nil && (!p.Legal(m) || m.String() != text) {
			t.Fatalf("%q reads as %s", text, m)
		}
	})
}
