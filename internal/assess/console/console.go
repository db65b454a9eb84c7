// SPDX-License-Identifier: Apache-2.0

// Package console writes judgements for a terminal: what matters first, in its
// width, in colour where it has some.
package console

import (
	"cmp"
	"fmt"
	"strings"
	"unicode/utf8"

	"boardhand/internal/assess"
	"boardhand/internal/assess/line"
)

// Page is what a terminal can show.
type Page struct {
	Width   int // columns; 0: lines are not broken
	Colours bool
}

// Colours of a terminal: ECMA-48, 8.3.117 (SGR).
const (
	bold  = "\x1b[1m"
	red   = "\x1b[1;31m"
	amber = "\x1b[33m"
	faint = "\x1b[2m"
	plain = "\x1b[0m"
)

// ink sets text in a colour.
func (p Page) ink(colour, text string) string {
	if !p.Colours || colour == "" {
		return text
	}
	return colour + text + plain
}

// inkOf is a verdict's colour.
func inkOf(v assess.Verdict) string {
	return map[assess.Verdict]string{assess.Fail: red, assess.Warn: amber}[v]
}

// indent is that of what belongs to a line.
const indent = "      "

// wrap breaks text at spaces; what follows the first line is indented like it.
func (p Page) wrap(first, rest, text string) string {
	if p.Width <= len(rest)+leastWords {
		return first + text + "\n"
	}
	var b strings.Builder
	b.WriteString(first)
	at, isFirst := utf8.RuneCountInString(first), true
	for _, word := range strings.Fields(text) {
		n := utf8.RuneCountInString(word)
		if !isFirst && at+1+n > p.Width {
			b.WriteString("\n" + rest)
			at, isFirst = len(rest), true
		}
		if !isFirst {
			b.WriteByte(' ')
			at++
		}
		b.WriteString(word)
		at, isFirst = at+n, false
	}
	return b.String() + "\n"
}

// Report is a rig's judgement: the summary, then each line, worst first.
func (p Page) Report(r assess.Report) string {
	var b strings.Builder
	b.WriteString(p.summary("", r))
	for _, t := range r.Remarks {
		b.WriteString(p.wrap("", "", t))
	}
	b.WriteString("\n")
	for _, c := range r.Checks {
		b.WriteString(p.line(c))
	}
	b.WriteString("\n")
	for _, c := range r.Cautions {
		b.WriteString(p.wrap("! ", "  ", c.Text))
	}
	return b.String()
}

// summary says in a sentence how a rig does: "38 pass, 1 warn (camera.lean), 1 fails: lift.room."
func (p Page) summary(name string, r assess.Report) string {
	n := r.Tally()
	parts := []string{fmt.Sprintf("%d pass", n.Pass)}
	if n.Warn > 0 {
		parts = append(parts, fmt.Sprintf("%d warn (%s)", n.Warn, names(r.Checks, assess.Warn)))
	}
	text := strings.Join(append(parts, n.Apart()...), ", ")
	if n.Fail > 0 {
		fails := "fail"
		if n.Fail == 1 {
			fails = "fails"
		}
		text = fmt.Sprintf("%d %s: %s; %s", n.Fail, fails, names(r.Checks, assess.Fail), text)
	}
	if name != "" {
		name += ": "
	}
	out := p.wrap(name, "", text+".")
	if p.Colours {
		return p.ink(bold+inkOf(r.Verdict), strings.TrimSuffix(out, "\n")) + "\n"
	}
	return out
}

// names are the lines with a verdict that counts.
func names(checks []assess.Check, v assess.Verdict) string {
	var ids []string
	for _, c := range checks {
		if c.Counts() == v {
			ids = append(ids, c.ID)
		}
	}
	return strings.Join(ids, ", ")
}

// word is the verdict as a line has it, in four letters.
func word(c assess.Check) string {
	w := c.Word()
	return cmp.Or(map[string]string{"accepted": "okay", "caution": "note"}[w], w)
}

// line is one check with its reason and what to change.
func (p Page) line(c assess.Check) string {
	value, limit := amounts(c)
	head := fmt.Sprintf("%-4s  %-20s %10s  %-10s  %s", word(c), c.ID, value+" ", limit, c.Unit)
	if p.Colours {
		head = p.ink(inkOf(c.Counts()), head[:4]) + head[4:]
	}
	out := strings.TrimRight(head, " ") + "\n" + p.ink(faintly(c), strings.TrimSuffix(p.wrap(indent, indent, c.Why), "\n")) + "\n"
	if c.Accepted != "" && c.Verdict == assess.Warn {
		out += p.wrap(indent+"accepted: ", indent, c.Accepted)
		return out
	}
	if c.Change != "" {
		out += p.wrap(indent+"change: ", indent, c.Change)
	}
	return out
}

// faintly is the ink of a reason that nobody has to act on.
func faintly(c assess.Check) string {
	if c.Counts() == assess.Pass {
		return faint
	}
	return ""
}

// amounts are a line's value and limit; a dash where it does not apply.
func amounts(c assess.Check) (value, limit string) {
	if !c.HasNumber() {
		return "–", "" // no number: it does not apply, or cannot be judged
	}
	sign := "≤"
	if c.Above() {
		sign = "≥"
	}
	return line.Figure(c.Value), sign + " " + line.Figure(c.Missed())
}
