// SPDX-License-Identifier: Apache-2.0

package propose

import (
	"strings"
	"testing"

	"boardhand/internal/game"
	"boardhand/internal/rig"
)

// Each bad file gives one line with the file's line and what to do.
func TestBadStock(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"", "stock.toml: no part and nothing to try"},
		{"[[magnet]]\ndiameter = 6\n", `stock.toml:2: magnet.diameter: `},
		{"[[magnet]]\ndiameter = \"6 N\"\n", `stock.toml:2: magnet.diameter: unit "N" does not fit here`},
		{"[[magnet]]\ndiameter = \"600 mm\"\n", `stock.toml:2: magnet.diameter must be 2 mm to 60 mm; got 600 mm`},
		{"[[magnet]]\ndiametre = \"6 mm\"\n", `stock.toml:2: unknown key magnet.diametre; known here: diameter`},
		{"[[magnet]]\nuse = \"door\"\n", `stock.toml:2: magnet.use must be one of "lift", "foot"; got "door"`},
		{"[[magnet]]\nprice = \"3 EUR\"\n", `stock.toml:2: magnet.price takes a plain number without unit`},
		{"[[magnet]]\nprice = -1\n", `stock.toml:2: magnet.price must be 0 to 1000000; got -1`},
		{"[[magnet]]\nprice = nan\n", `stock.toml:2: magnet.price must be 0 to 1000000; got nan`},
		{"[[magnet]]\ndiameter = \"6 mm\"\n", `stock.toml:1: [[magnet]] needs diameter, thickness and grade`},
		{"\n[[magnet]]\ndiameter = \"6 mm\"\nthickness = \"2 mm\"\ngrade = \"N42\"\n", `stock.toml:2: [[magnet]] needs a price, or how many are owned`},
		{"[[magnet]]\ndiameter = \"6 mm\"\nthickness = \"2 mm\"\ngrade = \"X1\"\nowned = 1\n", `stock.toml:1: [[magnet]] grade: `},
		{"[magnet]\nprice = 1\n", `stock.toml:1: magnet must be written as [[magnet]]`},
		{"[[sheet]]\nprice = 1\n", `stock.toml:1: [[sheet]] needs thickness`},
		{"[[sheet]]\nthickness = \"3 mm\"\nprice = 1\n\n[[sheet]]\nthickness = \"4 mm\"\n", `stock.toml:5: [[sheet]] needs a price`},
		{"[[foot]]\nprice = 1\n", `stock.toml:1: [[foot]] needs either base`},
		{"[[foot]]\nbase = \"15 mm\"\nwider = \"1 mm\"\n", `stock.toml:1: [[foot]] needs either base`},
		{"[[gear]]\ndrive = \"rack\"\nprice = 1\n", `stock.toml:1: [[gear]] needs module and teeth`},
		{"[[gear]]\ndrive = \"screw\"\nlead = \"8 mm\"\nprice = 1\n", `stock.toml:1: [[gear]] needs lead and efficiency`},
		{"[[gear]]\nprice = 1\n", `stock.toml:1: [[gear]] needs drive`},
		{"[[motor]]\nkind = \"dc\"\nprice = 1\n", `stock.toml:1: [[motor]] needs kind, stall_torque`},
		{"[try]\nspeed = [\"80 mm\"]\n", `stock.toml:2: try.speed: unit "mm" does not fit here`},
		{"[try]\nsquare = \"40 mm\"\n", `stock.toml:2: try.square takes a list in brackets`},
		{"[try]\nsquare = [\"400 mm\"]\n", `stock.toml:2: try.square must be 15 mm to 80 mm; got 400 mm`},
		{"[[ballast]]\nadds = \"2 g\"\n", `stock.toml:1: [[ballast]] needs a price`},
		{"[[supply]]\nvoltage = \"9 V\"\nprice = 1\n", `stock.toml:1: [[supply]] needs voltage and current`},
		{"[[lens]]\nhfov = \"60 deg\"\ndfov = \"70 deg\"\nprice = 1\n", `stock.toml:1: [[lens]] needs either hfov`},
		{"[[lens]]\nhfov = \"60 deg\"\n", `stock.toml:1: [[lens]] needs a price`},
		{"[try]\nbox = \"large\"\n", `stock.toml:2: try.box must be one of "as needed"; got "large"`},
		{"[try]\ndrop = [\"70 mm\"]\n", `stock.toml:2: try.drop must be 1 mm to 60 mm; got 70 mm`},
		{"[[magnet\n", `stock.toml:1: not valid TOML`},
	} {
		_, err := ParseStock("stock.toml", []byte(c.text))
		if err == nil || !strings.HasPrefix(err.Error(), c.want) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%q:\n got %v\nwant %s", c.text, err, c.want)
		}
	}
}

// What only the rig can tell.
func TestStockThatDoesNotFit(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"[[foot]]\nwider = \"40 mm\"\n\n[[foot]]\nwider = \"0 mm\"\n", ""},
		{"[[foot]]\nwider = \"0 mm\"\n[[foot]]\nwider = \"40 mm\"\n[try]\nsquare = [\"70 mm\"]\n", ""},
		{"[[magnet]]\ndiameter = \"6 mm\"\nthickness = \"2 mm\"\ngrade = \"N42\"\nuse = \"foot\"\nowned = 3\n",
			"stock.toml: none of the parts can be the foot magnets: disc 6 mm × 2 mm, N42 is left out as foot magnets: 3 owned, 18 needed, and it has no price"},
	} {
		stock, err := ParseStock("stock.toml", []byte(c.text))
		if err != nil {
			t.Fatal(err)
		}
		_, err = NewSpace(rig.Default(), stock)
		switch {
		case c.want == "" && err != nil:
			t.Errorf("%q: %v", c.text, err)
		case c.want != "" && (err == nil || err.Error() != c.want):
			t.Errorf("%q:\n got %v\nwant %s", c.text, err, c.want)
		}
	}
	wide := rig.Default()
	wide.Pieces.Of(game.King).Base *= 2
	stock, err := ParseStock("stock.toml", []byte("\n[[foot]]\nwider = \"39 mm\"\n"))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := NewSpace(wide, stock); err == nil || !strings.HasPrefix(err.Error(), "stock.toml:2: [[foot]] makes a foot of 73 mm") {
		t.Errorf("a foot too wide: %v", err)
	}
}

func FuzzParseStock(f *testing.F) {
	for _, seed := range []string{"", ExampleText, smallStock, wideStock, "[[magnet]]\ndiameter = \"6 mm\"\n", "[try]\nspeed = [\"80 mm/s\"]\n",
		"[[foot]]\nwider = \"2 mm\"\n", "[[gear]]\ndrive = \"belt\"\nprice = 1e9\n", "[[motor]]\nprice = inf", "currency = 3"} {
		f.Add([]byte(seed))
	}
	base := rig.Default()
	f.Fuzz(func(t *testing.T, data []byte) {
		stock, err := ParseStock("stock.toml", data)
		if err != nil {
			if !strings.HasPrefix(err.Error(), "stock.toml") {
				t.Errorf("an error without its file: %v", err)
			}
			return
		}
		s, err := NewSpace(base, stock)
		if err != nil {
			return
		}
		for _, n := range []int{0, s.Size() / 2, s.Size() - 1} {
			set := s.Settings(n)
			text, err := Write(rig.DefaultText, set)
			if err != nil {
				t.Fatal(err)
			}
			if _, err := rig.Parse("rig.toml", []byte(text), rig.Machine); err != nil && !strings.Contains(err.Error(), "wider than its square") {
				t.Errorf("candidate %d cannot be read back: %v\n%v", n, err, set)
			}
		}
	})
}
