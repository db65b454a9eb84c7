// SPDX-License-Identifier: Apache-2.0

package draft

import (
	"context"
	"os"
	"strings"
	"testing"

	"boardhand/internal/assess"
	"boardhand/internal/axes"
	"boardhand/internal/budget"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
	"boardhand/internal/yield"
)

// drafted is the rig of a wish, read back from its text.
func drafted(t *testing.T, w Wish) *rig.Rig {
	t.Helper()
	text, err := Text(context.Background(), w)
	if err != nil {
		t.Fatalf("%+v: %v", w, err)
	}
	r, err := rig.Parse("rig.toml", []byte(text), rig.Machine)
	if err != nil {
		t.Fatalf("%+v: %v", w, err)
	}
	if strings.Count(text, "#") < strings.Count(rig.DefaultText, "#") {
		t.Errorf("%+v: notes were lost", w)
	}
	return r
}

// wishes are a few sizes in every way to ask for them; all sizes in the long run.
func wishes() (out []Wish) {
	sizes := []float64{25, 28, 37, 50, 60}
	if os.Getenv("BOARDHAND_LONG") == "1" {
		sizes = nil
		for mm := 25.0; mm <= 60; mm += 0.5 {
			sizes = append(sizes, mm)
		}
	}
	for i, mm := range sizes {
		out = append(out, Wish{unit.MM(mm), "both", "tray"}, Wish{unit.MM(mm), [...]string{"", "white", "black"}[i%3], [...]string{"hand", "tray"}[i%2]})
	}
	return out
}

// A rig of any size passes every check without a warning, but for the cautions, and has
// what was asked for.
func TestEverySizePasses(t *testing.T) {
	for _, w := range wishes() {
		r := drafted(t, w)
		for _, c := range assess.Judge(r) {
			if c.Verdict != assess.Pass && !strings.HasPrefix(c.ID, "caution.") {
				t.Errorf("%+v: %s %s: %s", w, c.ID, c.Verdict, c.Why)
			}
		}
		for _, c := range axes.PlacesOf(r).Clearances() {
			if c.Left.MM() < -0.05 {
				t.Errorf("%+v: %s lacks %v to the %s", w, c.Part, -c.Left, c.To)
			}
		}
		if r.Board.Square != w.Square || w.Carried != "" && r.Pieces.Carried != w.Carried || r.Removal.Mode != w.Removal {
			t.Errorf("%+v became %v, %s, %s", w, r.Board.Square, r.Pieces.Carried, r.Removal.Mode)
		}
	}
}

// Of the smallest machine and of one for a club table 99 of 100 builds work.
func TestBuildsOfADraftWork(t *testing.T) {
	for _, mm := range []float64{25, 50} {
		r := drafted(t, Wish{unit.MM(mm), "both", "tray"})
		b, err := budget.Of(r)
		if err != nil {
			t.Fatal(err)
		}
		m, err := yield.Of(r, b)
		if err != nil {
			t.Fatal(err)
		}
		y, err := m.Run(context.Background(), yield.Options{Builds: 1000, Seed: 1})
		if err != nil {
			t.Fatal(err)
		}
		if y.Works < 0.99 {
			t.Errorf("%g mm: %s", mm, y.Verdict())
		}
	}
}

// What cannot be drafted is answered with what can.
func TestWishesThatAreRefused(t *testing.T) {
	for want, w := range map[string]Wish{
		"--square must be 25 mm to 60 mm; got 12 mm":          {Square: unit.MM(12)},
		"--carried must be black, white or both; got \"red\"": {Square: unit.MM(40), Carried: "red"},
		"--removal must be hand or tray":                      {Square: unit.MM(40), Removal: "chute"},
	} {
		if _, err := Text(context.Background(), w); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%+v: %v; want %q", w, err, want)
		}
	}
}
