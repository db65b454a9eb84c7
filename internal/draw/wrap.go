// SPDX-License-Identifier: Apache-2.0

package draw

import (
	"regexp"
	"strings"
)

// bound ties units to their numbers, where both fit a line, so that none begins with one.
func bound(words []string, fits func(string) bool) (out []string) {
	for _, w := range words {
		if isUnit := unitOf.MatchString(w); isUnit && len(out) > 0 && fits(out[len(out)-1]+" "+w) {
			out[len(out)-1] += " " + w
			continue
		}
		out = append(out, w)
	}
	return out
}

// unitOf is a unit, with what may follow it.
var unitOf = regexp.MustCompile(`^(mm|ml|cm|g|A|V|N|N·m|%|°C|mT)[,;:.)]*$`)

// Wrapped is the word's text broken into lines of a width, mm; a part that is wider is broken too.
// Empty text has no lines.
func (w Word) Wrapped(width float64) (out []string) {
	fits := func(s string) bool { w.Text = s; return w.Width() <= width }
	now := ""
	for _, word := range bound(strings.Fields(w.Text), fits) {
		if with := strings.TrimSpace(now + " " + word); fits(with) {
			now = with
			continue
		}
		if now != "" {
			out = append(out, now)
		}
		now = word
		for r := []rune(now); !fits(now) && len(r) > 1; r = []rune(now) {
			n := len(r) - 1
			for n > 1 && !fits(string(r[:n])) {
				n--
			}
			out, now = append(out, string(r[:n])), string(r[n:])
		}
	}
	if now != "" {
		out = append(out, now)
	}
	return out
}
