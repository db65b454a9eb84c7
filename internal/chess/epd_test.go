package chess

import "testing"

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
