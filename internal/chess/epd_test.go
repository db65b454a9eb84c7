package chess

import (
	"strings"
	"testing"
)

func TestEPD(t *testing.T) {
	for _, text := range []string{
		`1k1r4/pp1b1R2/3q2pp/4p3/2B5/4Q3/PPP2B2/2K5 b - - bm Qd1+; am Qxe5 Kc8; id "BK.01; first"; c0 "x";`,
		`1k1r4/pp1b1R2/3q2pp/4p3/2B5/4Q3/PPP2B2/2K5 b - - 0 1 bm Qd1+; am Kc8 Rc8; id "BK.01; first"`,
	} {
		e, err := ParseEPD(text)
		if strings.Contains(text, "Qxe5") {
			if err == nil || !strings.Contains(err.Error(), "not legal") {
				t.Errorf("an illegal move to avoid: %v", err)
			}
			continue
		}
		if err != nil || e.ID != "BK.01; first" || len(e.Best) != 1 || e.Best[0].String() != "d6d1" || len(e.Avoid) != 2 {
			t.Errorf("%s: %+v, %v", text, e, err)
		}
	}
	if _, err := ParseEPD("8/8"); err == nil {
		t.Error("half a line was taken")
	}
}

func FuzzEPD(f *testing.F) {
	f.Add(`1k1r4/pp1b1R2/3q2pp/4p3/2B5/4Q3/PPP2B2/2K5 b - - bm Qd1+; id "BK.01";`)
	f.Fuzz(func(t *testing.T, text string) {
		e, err := ParseEPD(text)
		if err != nil {
			return
		}
		for _, m := range append(e.Best, e.Avoid...) {
			if !e.Position.Legal(m) {
				t.Fatalf("%q has the illegal move %s", text, m)
			}
		}
	})
}
