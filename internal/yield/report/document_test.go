// SPDX-License-Identifier: Apache-2.0

package report

import (
	"bytes"
	"context"
	"strings"
	"testing"

	"boardhand/internal/assess"
	"boardhand/internal/assess/paper"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
	"boardhand/internal/yield"
)

// A thick board takes the grip away from many builds: the result says how many, by which
// line, and that friction and the force law decide it; the report has it with both plots.
func TestThickBoardInTheReport(t *testing.T) {
	r := rig.Default()
	r.Board.Thickness = unit.MM(8.5)
	y, err := Of(context.Background(), r, Options{Builds: 400, Seed: 2})
	if err != nil {
		t.Fatal(err)
	}
	if y.Works > 0.95 || y.First == "" || len(y.Matters) < 3 {
		t.Fatalf("%.3f of the builds work, %q stops the others; %d tolerances matter", y.Works, y.First, len(y.Matters))
	}
	named := yield.Named(y.Matters)
	if !strings.Contains(named, "friction of the board") || !strings.Contains(named, "forces against the formula") {
		t.Errorf("what matters most: %s", named)
	}
	d := Document(y)
	var page, pdf bytes.Buffer
	if err := paper.HTML(&page, r, assess.Report{Rig: "thick"}, paper.Made{}, d); err != nil {
		t.Fatal(err)
	}
	if err := paper.PDF(&pdf, r, assess.Report{Rig: "thick"}, paper.Made{}, d); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"How many builds work", y.First, `id="yield-game"`, `id="yield-line"`, yield.Share(y.Works)} {
		if !strings.Contains(page.String(), want) {
			t.Errorf("the page lacks %q", want)
		}
	}
	if s := page.String(); strings.Contains(s, "NaN") || strings.Contains(s, "Inf") || pdf.Len() < 20_000 {
		t.Errorf("a number that is none, or an empty paper of %d bytes", pdf.Len())
	}
}

// What cannot be drawn is refused in words that say what to do.
func TestRefused(t *testing.T) {
	for _, n := range []int{-1, 100_000_000} {
		if _, err := Of(context.Background(), rig.Default(), Options{Builds: n}); err == nil || !strings.Contains(err.Error(), "--yield takes 1 to") {
			t.Errorf("%d builds: %v", n, err)
		}
	}
	r := rig.Default()
	r.Board.Thickness = unit.MM(25)
	if _, err := Of(context.Background(), r, Options{Builds: 10}); err == nil {
		t.Error("a magnet that moves no piece: builds were drawn")
	}
}
