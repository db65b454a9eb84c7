// SPDX-License-Identifier: Apache-2.0

package card

import (
	"fmt"
	"strings"
)

// Differences are the lines of readings that differ: pictures read otherwise,
// "gate06/frame_0003 capture d4e5: move d4e5, now unsure".
func Differences(was, is []string) []string {
	before := map[string]string{}
	for _, l := range was {
		picture, read := cut(l)
		before[picture] = read
	}
	var out []string
	for _, l := range is {
		picture, read := cut(l)
		old, ok := before[picture]
		switch {
		case !ok:
			out = append(out, picture+": new, "+read)
		case old != read:
			out = append(out, picture+": "+old+", now "+read)
		}
		delete(before, picture)
	}
	for _, l := range was {
		if picture, _ := cut(l); before[picture] != "" {
			out = append(out, picture+": no longer there")
		}
	}
	return out
}

// cut parts a line of readings into the picture and what it was read as.
func cut(line string) (picture, read string) {
	i := strings.LastIndex(line, ": ")
	if i < 0 {
		return line, ""
	}
	return line[:i], line[i+2:]
}

// shown is how many lines of a kind a judgement tells.
const shown = 25

// Judge says in words what differs from the run that is committed and what to
// do about it; empty when nothing does.
func Judge(was, is Result) string {
	changes, pictures := Compare(was.Card, is.Card), Differences(was.Readings, is.Readings)
	if len(changes) == 0 && len(pictures) == 0 {
		return ""
	}
	var b strings.Builder
	worse, better := changes.Of(Worse), changes.Of(Better)
	switch {
	case len(worse) > 0:
		b.WriteString("the reader has become worse than its scorecard. Undo what made it so; if the loss is meant, say why in the commit and write the new card with make score-accept.\n")
	case len(better) > 0:
		b.WriteString("the reader has become better than its scorecard: keep that with make score-accept.\n")
	default:
		b.WriteString("the reader reads otherwise than its scorecard, neither better nor worse: if that is meant, write the new card with make score-accept.\n")
	}
	for _, v := range []Verdict{Worse, Better, Other} {
		some := changes.Of(v)
		b.WriteString(some[:min(shown, len(some))].String())
		if len(some) > shown {
			fmt.Fprintf(&b, "  and %d more figures %s\n", len(some)-shown, v)
		}
	}
	if len(pictures) > 0 {
		fmt.Fprintf(&b, "pictures read otherwise: %d\n", len(pictures))
	}
	for _, l := range pictures[:min(shown, len(pictures))] {
		b.WriteString("  " + l + "\n")
	}
	return b.String()
}
