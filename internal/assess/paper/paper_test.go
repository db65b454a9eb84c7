// SPDX-License-Identifier: Apache-2.0

package paper

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"strings"
	"testing"

	"boardhand/internal/assess"
	"boardhand/internal/assess/figure"
	"boardhand/internal/draw"
	"boardhand/internal/rig"
)

// rigs to draw: the default one and some that fail.
func rigs(t *testing.T) map[string]*rig.Rig {
	t.Helper()
	out := map[string]*rig.Rig{"default": rig.Default(), "empty": {}}
	for name, set := range map[string][2]string{
		"strong":   {"lift.diameter", `"20 mm"`},
		"tray":     {"removal.mode", `"tray"`},
		"low":      {"camera.height", `"320 mm"`},
		"sideways": {"camera.white_side", `"left"`},
		"weak":     {"axis.x.motor.stall_torque", `"0.01 N·m"`},
		"stiff":    {"lift.spring", `"3 N/mm"`},
		"thick":    {"board.thickness", `"14 mm"`},
	} {
		text, err := rig.Patch(rig.DefaultText, set[0], set[1])
		if err != nil {
			t.Fatal(err)
		}
		r, err := rig.Parse(name+".toml", []byte(text), rig.Machine)
		if err != nil {
			t.Fatal(err)
		}
		out[name] = r
	}
	return out
}

func TestNoWordsOverlapAndNothingLeavesThePaper(t *testing.T) {
	for name, r := range rigs(t) {
		for _, f := range figure.Of(r) {
			d := &draw.Drawing{}
			place(d, f, textWidth)
			whole := draw.Rect{X1: textWidth + 2, Y0: -0.5, Y1: heightOf(f, textWidth)}
			if b := d.Bounds(); !b.Within(whole) {
				t.Errorf("%s, %s: drawn on %v of %v mm", name, f.ID, b, whole)
			}
			for i, a := range d.Words() {
				for _, b := range d.Words()[:i] {
					if a.Box().Overlaps(b.Box()) {
						t.Errorf("%s, %s: %q lies over %q", name, f.ID, a.Text, b.Text)
					}
				}
			}
		}
	}
}

func TestEveryAxisHasItsUnit(t *testing.T) {
	for name, r := range rigs(t) {
		for _, f := range figure.Of(r) {
			for _, l := range []string{f.XLabel, f.YLabel} {
				if !strings.Contains(l, ", ") {
					t.Errorf("%s, %s: axis %q names no unit", name, f.ID, l)
				}
			}
		}
	}
}

func TestDrawingsAreWellFormed(t *testing.T) {
	for name, r := range rigs(t) {
		for _, f := range figure.Of(r) {
			d := xml.NewDecoder(strings.NewReader(SVG(f)))
			for {
				if _, err := d.Token(); err == io.EOF {
					break
				} else if err != nil {
					t.Fatalf("%s, %s: %v", name, f.ID, err)
				}
			}
		}
	}
}

// The page and the PDF hold every line, each with formula, source and range.
func TestReportsAreWhole(t *testing.T) {
	all := rigs(t)
	for _, name := range []string{"default", "strong", "empty"} {
		r := all[name]
		rep := assess.ReportOn(r)
		var page, pdf, again bytes.Buffer
		if err := HTML(&page, r, rep, Made{}); err != nil {
			t.Fatal(err)
		}
		for _, c := range rep.Checks {
			for _, want := range []string{c.ID, c.Formula, c.Source, c.Range} {
				if !strings.Contains(page.String(), escaped(want)) {
					t.Errorf("%s: the page lacks %q of %s", name, want, c.ID)
				}
			}
		}
		if strings.Contains(page.String(), "NaN") || strings.Contains(page.String(), "http") && strings.Count(page.String(), "http") != strings.Count(page.String(), "http://www.w3.org/2000/svg") {
			t.Errorf("%s: the page has a NaN or needs something from outside", name)
		}
		for _, v := range r.Settings() { // what was judged can be read again from the page
			if !strings.Contains(page.String(), "<td>"+escaped(v.Key)+"</td><td>"+escaped(v.Value)+"</td>") {
				t.Errorf("%s: the page lacks %s", name, v.Key)
			}
		}
		if err := PDF(&pdf, r, rep, Made{}); err != nil {
			t.Fatal(err)
		}
		if !bytes.HasPrefix(pdf.Bytes(), []byte("%PDF-")) || pdf.Len() < 10000 {
			t.Errorf("%s: no PDF", name)
		}
		if err := PDF(&again, r, rep, Made{}); err != nil || !bytes.Equal(pdf.Bytes(), again.Bytes()) {
			t.Errorf("%s: the same rig gives another file (%v)", name, err)
		}
	}
}

// escaped is text as the page's template writes it.
func escaped(s string) string {
	return strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", "'", "&#39;", `"`, "&#34;", "+", "&#43;").Replace(s)
}

func TestTicksAreRound(t *testing.T) {
	for _, c := range []struct {
		e    figure.Extent
		n    int
		want string
	}{
		{figure.Extent{From: 0, To: 16}, 8, "[0 2 4 6 8 10 12 14 16]"},
		{figure.Extent{From: -0.39, To: 0.39}, 8, "[-0.3 -0.2 -0.1 0 0.1 0.2 0.3]"},
		{figure.Extent{From: 0, To: 33}, 5, "[0 10 20 30]"},
	} {
		var got []string
		for _, v := range ticks(c.e, c.n) {
			got = append(got, number(v))
		}
		if fmt.Sprint(got) != c.want {
			t.Errorf("%v: got %v, want %s", c.e, got, c.want)
		}
	}
}
