// SPDX-License-Identifier: Apache-2.0

package main

import (
	"bytes"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

const sample = `package x

import "math"

const slack = 0.13 // metres

const (
	wide, deep = 2.0 * math.Pi / 180, -5
	name       = "4"
)

const (
	first = iota
	second
	third = second + 1
)

const (
	home = 0
	hand = 1
)

var places = []float64{0.16, 0, 0.5}
var shape = map[string][][2]int{"a": {{1, 2}}}
var made = make([]int, 4)

func f(x float64) float64 {
	const most = 5
	if x > 0.97 {
		return x * 2
	}
	return x + 7
}

func (t *T) g() { const most = 6 }

func h() { const most = 7; { const most = 8 } }
`

// TestNumbers: what has digits is found wherever it is declared; enumerations,
// zeros, texts, calls and tables of tables are not.
func TestNumbers(t *testing.T) {
	names := func(literals bool) []string {
		found, err := numbersOf("x.go", []byte(sample), literals)
		if err != nil {
			t.Fatal(err)
		}
		var out []string
		for _, n := range found {
			out = append(out, n.Name+"="+n.Value)
		}
		return out
	}
	want := []string{"slack=0.13", "wide=2.0 * math.Pi / 180", "deep=-5", "places[0]=0.16", "places[2]=0.5", "f.most=5", "g.most=6", "h.most=7", "h.most#2=8"}
	if got := names(false); !slices.Equal(got, want) {
		t.Errorf("found %q\nwant  %q", got, want)
	}
	for _, more := range []string{"f.0.97=0.97", "f.7=7"} {
		if got := names(true); !slices.Contains(got, more) || len(got) != len(want)+2 {
			t.Errorf("with literals: %q lacks %s", got, more)
		}
	}
}

// TestTimes: a number is changed in its place alone, and the file stays Go.
func TestTimes(t *testing.T) {
	found, err := numbersOf("x.go", []byte(sample), true)
	if err != nil {
		t.Fatal(err)
	}
	for _, n := range found {
		for _, text := range [][]byte{n.times([]byte(sample), 2, false), n.times([]byte(sample), 0.5, false), n.times([]byte(sample), 0.5, true)} {
			if _, err := parser.ParseFile(token.NewFileSet(), "x.go", text, 0); err != nil {
				t.Errorf("%s: %v", n.Name, err)
			}
		}
		want := strings.Replace(sample[n.from-1:], n.Value, "(("+n.Value+") * 2)", 1)
		if got := n.times([]byte(sample), 2, false); !bytes.HasSuffix(got, []byte(want)) || !bytes.HasPrefix(got, []byte(sample[:n.from])) {
			t.Errorf("%s doubled:\n%s", n.Name, got)
		}
	}
}

// TestReaderNumbers: the reader's own numbers are found, each name once, and
// none is missed that a plain search finds.
func TestReaderNumbers(t *testing.T) {
	t.Chdir("../..")
	found, err := allNumbers(false)
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	for _, n := range found {
		if seen[n.key()] {
			t.Errorf("%s comes twice", n.key())
		}
		seen[n.key()] = true
	}
	files, err := readerFiles()
	if err != nil {
		t.Fatal(err)
	}
	plain, count := regexp.MustCompile(`(?m)^const (\w+) += -?[0-9][0-9.e-]*( |$)`), 0
	for _, f := range files {
		text, err := os.ReadFile(filepath.Join(readerDir, f))
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range plain.FindAllStringSubmatch(string(text), -1) {
			if count++; !seen[f+":"+m[1]] && !slices.Contains(asides, f) {
				t.Errorf("%s of %s is not found", m[1], f)
			}
		}
	}
	if count < 30 {
		t.Errorf("the plain search finds only %d constants: it looks for the wrong thing", count)
	}
	t.Logf("%d numbers", len(found))
}
