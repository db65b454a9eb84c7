// SPDX-License-Identifier: Apache-2.0

package main

import (
	"cmp"
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
)

// line is one number and what halving and doubling it did.
type line struct {
	number number
	found  map[float64]finding // by factor
}

// tried says whether a variant was run.
func (l line) tried(factor float64) bool {
	_, ok := l.found[factor]
	return ok
}

// stops says whether nothing runs with one of the variants.
func (l line) stops() bool {
	for _, f := range l.found {
		if f.Outcome == crashed || f.Outcome == neverEnds {
			return true
		}
	}
	return false
}

// weight orders numbers by what a change does to the card: pictures read
// otherwise, counts, and the logarithms of ratios of the other figures, added
// up, of the factor that does more. One that cannot run is above all.
func (l line) weight() float64 {
	most := -1.0
	for _, f := range l.found {
		w := float64(f.Read)
		switch f.Outcome {
		case noBuild:
			continue
		case crashed, neverEnds:
			w = math.Inf(1)
		}
		for _, s := range shifts(f.Base, f.Total) {
			w += s.size
		}
		if !f.Red {
			w = 0
		}
		most = max(most, w)
	}
	return most
}

// linesOf are the numbers that were tried, most sensitive first.
func linesOf(numbers []number, b *book) []line {
	var out []line
	for _, n := range numbers {
		l := line{number: n, found: map[float64]finding{}}
		for _, factor := range []float64{0.5, 2} {
			if f, ok := b.all[finding{File: n.File, Name: n.Name, Factor: factor}.key()]; ok {
				l.found[factor] = f
			}
		}
		if len(l.found) > 0 {
			out = append(out, l)
		}
	}
	slices.SortStableFunc(out, func(a, b line) int { return cmp.Compare(b.weight(), a.weight()) })
	return out
}

// sensitiveHead stands over the table.
const sensitiveHead = `# What each number of the reader does

Written by ` + "`make score-vary`" + `: every constant and variable of internal/sight whose value is written with digits, found in the syntax tree,
halved and doubled one at a time (the tree is not touched: ` + "`go test -overlay`" + `), and the gate's games read with it. The columns tell what changes
in the total of the card: counts (moves right, wrong moves, pictures asked about, *same*, *hands* and *odd* states told), the other figures from 2 %
on (docs/scorecard.md says what they are), and how many pictures are read otherwise. "nothing": the card stays as it is, the gate is green. Most
sensitive first: pictures, counts and logarithms of ratios added up, of the worse of the two.

`

// writeTable writes the committed table.
func (o options) writeTable(numbers []number) error {
	b, err := o.book()
	if err != nil {
		return err
	}
	sum, err := sources()
	if err != nil {
		return err
	}
	lines := linesOf(numbers, b)
	var w strings.Builder
	w.WriteString(sensitiveHead)
	games := "all games of the gate"
	if o.games != "" {
		games = "the games " + o.games
	}
	whole, red := 0, map[float64]int{}
	for _, l := range lines {
		if len(l.found) == 2 {
			whole++
		}
		for factor, f := range l.found {
			if f.Red && f.Outcome != noBuild {
				red[factor]++
			}
		}
	}
	fmt.Fprintf(&w, "Coverage: %d of %d numbers tried both ways, %d one way, on %s, with the sources %s. Halved, %d turn the gate red; doubled, %d.\n\n",
		whole, len(numbers), len(lines)-whole, games, sum, red[0.5], red[2])
	writeNoticed(&w, lines)
	if err := o.writeMutants(&w); err != nil {
		return err
	}
	w.WriteString("## The numbers\n\n| number | file | value | halved | doubled |\n| --- | --- | --- | --- | --- |\n")
	for _, l := range lines {
		fmt.Fprintf(&w, "| %s | %s | `%s` | %s | %s |\n", l.number.Name, l.number.File, oneLine(l.number.Value), l.said(0.5), l.said(2))
	}
	writeUntried(&w, numbers, b)
	return os.WriteFile(sensitiveFile, []byte(w.String()), 0o644)
}

// oneLine is a value as a cell of a table can hold it.
func oneLine(value string) string {
	return strings.ReplaceAll(strings.Join(strings.Fields(value), " "), "|", "\\|")
}

// said is what a variant did, in a cell.
func (l line) said(factor float64) string {
	f, ok := l.found[factor]
	switch {
	case !ok:
		return "not run"
	case f.Outcome != ran:
		return string(f.Outcome)
	case !f.Red:
		return "nothing"
	}
	var parts []string
	for _, s := range shifts(f.Base, f.Total) {
		parts = append(parts, s.text)
	}
	if f.Read > 0 {
		parts = append(parts, fmt.Sprintf("%d read otherwise", f.Read))
	}
	if len(parts) == 0 {
		return "a single game's figures"
	}
	return strings.Join(parts, ", ")
}

// writeNoticed tells whether the gate's card noticed the most sensitive
// numbers of the table doubled.
func writeNoticed(w *strings.Builder, lines []line) {
	tried, red := 0, 0
	for _, l := range lines {
		if f, ok := l.found[2]; ok && tried < mostSensitive && !l.stops() {
			tried++
			if f.Red {
				red++
			}
		}
	}
	fmt.Fprintf(w, "Of the %d most sensitive numbers with which the program runs, %d turned TestScorecard red when doubled.\n\n", tried, red)
}

// writeMutants writes the check of the gate, if it has been run.
func (o options) writeMutants(w *strings.Builder) error {
	b, err := o.mutantBook()
	if err != nil || len(b.all) == 0 {
		return err
	}
	all, red := []finding{}, 0
	for _, f := range b.all {
		all = append(all, f)
		if f.Red {
			red++
		}
	}
	slices.SortFunc(all, func(a, b finding) int { return cmp.Or(cmp.Compare(b.Read, a.Read), cmp.Compare(a.key(), b.key())) })
	fmt.Fprintf(w, "## Does the gate notice?\n\n`make score-mutants` doubles the most sensitive numbers and runs TestScorecard: %d of %d turn it red.\n\n", red, len(all))
	w.WriteString("| number doubled | file | value | gate | what changes |\n| --- | --- | --- | --- | --- |\n")
	for _, f := range all {
		colour := "green"
		if f.Red {
			colour = "red"
		}
		l := line{found: map[float64]finding{2: f}}
		fmt.Fprintf(w, "| %s | %s | `%s` | %s | %s |\n", f.Name, f.File, oneLine(f.Value), colour, l.said(2))
	}
	w.WriteString("\n")
	return nil
}

// writeUntried lists the numbers that were not tried.
func writeUntried(w *strings.Builder, numbers []number, b *book) {
	var names []string
	for _, n := range numbers {
		if !b.has(n, 0.5) && !b.has(n, 2) {
			names = append(names, n.key())
		}
	}
	if len(names) > 0 {
		fmt.Fprintf(w, "\nNot tried yet: %s.\n", strings.Join(names, ", "))
	}
}
