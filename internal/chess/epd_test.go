// SPDX-License-Identifier: Apache-2.0

package chess

import (
	"strings"
	"testing"
)

func TestParseEPD(t *testing.T) {
	// Position and best move: F. Reinfeld, Win at Chess (1958), no. 1.
	e, err := ParseEPD(`2rr3k/pp3pp1/1nnqbN1p/3pN3/2pP4/2P3Q1/PPB4P/R4RK1 w - - bm Qg6; id "WAC.001";`)
	if err != nil {
		t.Fatal(err)
	}
	if e.ID != "WAC.001" || len(e.Best) != 1 || e.Best[0].String() != "g3g6" {
		t.Errorf("read as %+v", e)
	}
	if !e.Solves(e.Best[0]) || e.Solves(MakeMove(SquareAt(0, 1), SquareAt(0, 2), NoKind)) {
		t.Error("Solves does not tell Qg6 from a3")
	}
	for _, bad := range []string{"", "8/8/8/8 w - -", "k7/8/8/8/8/8/8/K7 w - - bm Qg6;", "x y z w"} {
		if _, err := ParseEPD(bad); err == nil {
			t.Errorf("%q was accepted", bad)
		}
	}
}

func FuzzParseEPD(f *testing.F) {
	f.Add(`4k3/8/8/8/8/8/8/4K2R w K - bm O-O Kf2; am Kd1; id "x; y";`)
	f.Add("8/8/8/8/8/8/8/8 w - -")
	f.Fuzz(func(t *testing.T, s string) {
		e, err := ParseEPD(s)
		if err != nil {
			return
		}
		for _, m := range append(e.Best, e.Avoid...) {
			if !e.Position.Legal(m) {
				t.Fatalf("%q: %s is not legal", s, m)
			}
		}
	})
}

const startPieces = "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq -"

func TestEPDForms(t *testing.T) {
	for _, c := range []struct {
		text     string
		best, id string
		judges   bool
		counters string
	}{
		{` bm a3; id "four fields";`, "a2a3", "four fields", true, "0 1"},
		{` 0 1 bm a3; id "six fields";`, "a2a3", "six fields", true, "0 1"},
		{` 7 12 BM a3;`, "a2a3", "", true, "7 12"},
		{` 7 bm a3;`, "a2a3", "", true, "7 1"},
		{` bm a3, h3; hmvc 4; fmvn 9;`, "a2a3 h2h3", "", true, "4 9"},
		{` bm a3 h3`, "a2a3 h2h3", "", true, "0 1"},
		{` c0 "say; bm e4"; id "x; y";`, "", "x; y", false, "0 1"},
		{` dm 2; id "a mate";`, "", "a mate", false, "0 1"},
		{` am a3;`, "", "", true, "0 1"},
		{``, "", "", false, "0 1"},
	} {
		e, err := ParseEPD(startPieces + c.text)
		if err != nil {
			t.Errorf("%q: %v", c.text, err)
			continue
		}
		var best []string
		for _, m := range e.Best {
			best = append(best, m.String())
		}
		if got := strings.Join(best, " "); got != c.best || e.ID != c.id || e.Judges() != c.judges || e.Position.FEN() != startPieces+" "+c.counters {
			t.Errorf("%q: best %q, id %q, judges %v, %s", c.text, got, e.ID, e.Judges(), e.Position.FEN())
		}
	}
	if e, err := ParseEPD(startPieces + ` c0 "say; bm e4";`); err != nil || e.Ops["c0"] != "say; bm e4" || len(e.Ops) != 1 {
		t.Errorf("operations %q, %v", e.Ops, err)
	}
}

func TestFENWithoutCounters(t *testing.T) {
	for text, want := range map[string]string{startPieces: startPieces + " 0 1", startPieces + " 3": startPieces + " 3 1", startPieces + " 3 7": startPieces + " 3 7"} {
		p, err := ParseFEN(text)
		if err != nil || p.FEN() != want {
			t.Errorf("%q: %s, %v", text, p.FEN(), err)
		}
	}
	for _, bad := range []string{"rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq", startPieces + " 0 1 2", startPieces + " x"} {
		if _, err := ParseFEN(bad); err == nil {
			t.Errorf("%q was accepted", bad)
		}
	}
}
