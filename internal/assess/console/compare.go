// SPDX-License-Identifier: Apache-2.0

package console

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"boardhand/internal/assess"
	"boardhand/internal/assess/whatif"
	"boardhand/internal/unit"
)

// Comparison sets two rigs side by side: summaries, keys that differ, lines that
// read otherwise.
func (p Page) Comparison(c whatif.Comparison) string {
	var b strings.Builder
	names := c.Names
	if names[0] == names[1] {
		names = [2]string{"before", "after"}
	}
	b.WriteString(p.summary(names[0], c.A) + p.summary(names[1], c.B))
	for _, t := range c.B.Remarks {
		b.WriteString(p.wrap("", "", t))
	}
	if len(c.Keys) == 0 {
		b.WriteString("\nthe two say the same\n")
		return b.String()
	}
	b.WriteString("\n")
	var rows [][]string
	for _, k := range c.Keys {
		rows = append(rows, []string{k.Key, given(k.A), "→ " + given(k.B)})
	}
	p.table(&b, rows, nil)
	b.WriteString("\n")
	rows = nil
	var inks []string
	for _, l := range c.Lines {
		rows = append(rows, []string{l.ID, side(l.A), "→ " + side(l.B), unitOf(l)})
		inks = append(inks, turned(l))
	}
	p.table(&b, rows, inks)
	same := fmt.Sprintf("%s stay as they are.", unit.Count(c.Same, "line"))
	if c.Same == 1 {
		same = "1 line stays as it is."
	}
	b.WriteString(same + "\n")
	for _, l := range c.Lines { // what is left to do
		if l.B != nil && l.B.Counts() != assess.Pass {
			b.WriteString("\n" + p.line(*l.B))
		}
	}
	return b.String()
}

func given(v string) string {
	if v == "" {
		return "not given"
	}
	return v
}

// side is a line as one of two rigs has it.
func side(c *assess.Check) string {
	if c == nil {
		return "not there"
	}
	value, limit := amounts(*c)
	return strings.TrimSpace(word(*c) + " " + value + " " + limit)
}

func unitOf(l whatif.Line) string {
	if l.B != nil {
		return l.B.Unit
	}
	return l.A.Unit
}

// turned is the ink of a line whose verdict is another one.
func turned(l whatif.Line) string {
	if l.A == nil || l.B == nil || l.A.Counts() == l.B.Counts() {
		return ""
	}
	if l.B.Counts() == assess.Pass {
		return bold
	}
	return inkOf(l.B.Counts())
}

// table writes columns as wide as their widest cell; the last one is broken where the
// terminal ends.
func (p Page) table(b *strings.Builder, rows [][]string, inks []string) {
	width := widths(rows)
	for at, r := range rows {
		last, first := len(r)-1, ""
		for i, cell := range r[:last] {
			first += cell + strings.Repeat(" ", width[i]-utf8.RuneCountInString(cell)+2)
		}
		ink := ""
		if at < len(inks) {
			ink = inks[at]
		}
		text := p.wrap(first, strings.Repeat(" ", utf8.RuneCountInString(first)), r[last])
		b.WriteString(p.ink(ink, strings.TrimRight(text, " \n")) + "\n")
	}
}

// widths are those of the columns' widest cells.
func widths(rows [][]string) (out []int) {
	for _, r := range rows {
		for i, cell := range r {
			if i == len(out) {
				out = append(out, 0)
			}
			out[i] = max(out[i], utf8.RuneCountInString(cell))
		}
	}
	return out
}

// Sweep tells what each value of a key does.
func (p Page) Sweep(key string, points []whatif.Point) string {
	rows := [][]string{{key, "verdict", "least left", "what does not pass"}}
	inks := []string{bold}
	for _, at := range points {
		inks = append(inks, inkOf(at.Verdict))
		if at.Refused != "" {
			rows = append(rows, []string{at.Value, "refused", "", at.Refused})
			continue
		}
		left := ""
		if t := at.Tightest(); t != nil {
			left = fmt.Sprintf("%s %.0f %%", t.ID, 100*t.Share)
		}
		off := strings.Join(at.Off(assess.Fail), ", ")
		if warns := strings.Join(at.Off(assess.Warn), ", "); warns != "" {
			off = strings.TrimPrefix(off+"; warn: "+warns, "; ")
		}
		rows = append(rows, []string{at.Value, string(at.Verdict), left, off})
	}
	var b strings.Builder
	p.table(&b, rows, inks)
	return b.String()
}
