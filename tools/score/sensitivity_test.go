// SPDX-License-Identifier: Apache-2.0

package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"boardhand/tools/score/card"
)

// sampleBook has three numbers: one that matters, one that does nothing, and
// one that does not build halved.
func sampleBook(t *testing.T) (*book, []number) {
	t.Helper()
	b, err := openBook(filepath.Join(t.TempDir(), "vary.jsonl"))
	if err != nil {
		t.Fatal(err)
	}
	base := card.Row{Name: "total", Moves: card.Count{Is: 10, Of: 10}, Median: 0.2, Lead: 50}
	hurt, moved := base, base
	hurt.Moves.Is, hurt.Asked.Is, hurt.Median = 8, 2, 0.3
	moved.Lead = 40
	for _, f := range []finding{
		{File: "a.go", Name: "idle", Factor: 2, Outcome: ran, Base: base, Total: base},
		{File: "a.go", Name: "idle", Factor: 0.5, Outcome: ran, Base: base, Total: base},
		{File: "a.go", Name: "whole", Factor: 2, Outcome: ran, Red: true, Base: base, Total: moved},
		{File: "a.go", Name: "whole", Factor: 0.5, Outcome: noBuild, Red: true},
		{File: "b.go", Name: "weight", Factor: 2, Outcome: ran, Red: true, Read: 2, Base: base, Total: hurt},
	} {
		if err := b.add(f); err != nil {
			t.Fatal(err)
		}
	}
	return b, []number{{File: "a.go", Name: "idle"}, {File: "a.go", Name: "whole"}, {File: "b.go", Name: "weight"}, {File: "b.go", Name: "later"}}
}

// TestLines: the most sensitive number comes first, and the cells say what
// changed.
func TestLines(t *testing.T) {
	b, numbers := sampleBook(t)
	lines := linesOf(numbers, b)
	want := []struct{ name, halved, doubled string }{
		{"weight", "not run", "moves right −2, asked +2, offset +50 %, 2 read otherwise"},
		{"whole", "does not build", "lead −20 %"},
		{"idle", "nothing", "nothing"},
	}
	if len(lines) != len(want) {
		t.Fatalf("%d lines", len(lines))
	}
	for i, w := range want {
		if l := lines[i]; l.number.Name != w.name || l.said(0.5) != w.halved || l.said(2) != w.doubled {
			t.Errorf("line %d: %s: %q, %q; want %v", i, l.number.Name, l.said(0.5), l.said(2), w)
		}
	}
	var text strings.Builder
	if writeNoticed(&text, lines); !strings.Contains(text.String(), "Of the 3 most sensitive numbers with which the program runs, 2 turned TestScorecard red") {
		t.Errorf("%q", text.String())
	}
	if writeUntried(&text, numbers, b); !strings.Contains(text.String(), "Not tried yet: b.go:later.") {
		t.Errorf("%q", text.String())
	}
}

// TestBookGoesOn: what was run is not run again, a torn last line is.
func TestBookGoesOn(t *testing.T) {
	b, numbers := sampleBook(t)
	f, err := os.OpenFile(b.path, os.O_APPEND|os.O_WRONLY, 0o644)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := f.WriteString(`{"File":"b.go","Name":"weight","Factor":0.5,"Ou`); err != nil {
		t.Fatal(err)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	again, err := openBook(b.path)
	if err != nil {
		t.Fatal(err)
	}
	jobs, err := options{}.open(again, numbers)
	if err != nil {
		t.Fatal(err)
	}
	var left []string
	for _, j := range jobs {
		left = append(left, finding{File: j.number.File, Name: j.number.Name, Factor: j.factor}.key())
	}
	if got := strings.Join(left, "; "); got != "b.go:weight x 0.5; b.go:later x 2; b.go:later x 0.5" {
		t.Errorf("left to run: %s", got)
	}
	if jobs, err = (options{match: "^b.go:later$", most: 1}).open(again, numbers); err != nil || len(jobs) != 1 || jobs[0].factor != 2 {
		t.Errorf("a part: %v, %v", jobs, err)
	}
	if err := again.add(finding{File: "b.go", Name: "later", Factor: 2, Outcome: ran}); err != nil {
		t.Fatal(err)
	}
	if last, err := openBook(b.path); err != nil || len(last.all) != len(b.all)+1 {
		t.Errorf("after the torn line: %d findings, %v", len(last.all), err)
	}
	if f := again.all["a.go:idle x 2"]; f.Base.Lead != 50 {
		t.Errorf("what the reader does without the change was lost: %+v", f)
	}
}
