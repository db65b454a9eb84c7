// SPDX-License-Identifier: Apache-2.0

package chess

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// rosterTags are the seven tags every game has, in their order, with the value
// for "unknown" (S. J. Edwards, Portable Game Notation, 1994).
var rosterTags = []Tag{
	{"Event", "?"}, {"Site", "?"}, {"Date", "????.??.??"}, {"Round", "?"},
	{"White", "?"}, {"Black", "?"}, {"Result", "*"},
}

// pgnColumns is the longest line of move text: the standard asks for less than 80.
const pgnColumns = 79

// PGN prints the game in the export format of Portable Game Notation: the
// seven tags, SetUp and FEN if it did not begin at the usual position, other
// tags by name, the moves, the result.
func (g *Game) PGN() string {
	result := g.Outcome().Result
	var b strings.Builder
	for _, t := range g.exportTags(result) {
		fmt.Fprintf(&b, "[%s \"%s\"]\n", t.Name, escapeTag(t.Value))
	}
	b.WriteByte('\n')
	column := 0
	for _, word := range append(g.moveWords(), string(result)) {
		if column > 0 && column+1+len(word) > pgnColumns {
			b.WriteByte('\n')
			column = 0
		} else if column > 0 {
			b.WriteByte(' ')
			column++
		}
		b.WriteString(word)
		column += len(word)
	}
	b.WriteString("\n\n")
	return b.String()
}

// exportTags are the tags to print, in order.
func (g *Game) exportTags(result Result) []Tag {
	var tags, others []Tag
	for _, t := range rosterTags {
		tags = append(tags, Tag{t.Name, cmp.Or(g.Tag(t.Name), t.Value)})
	}
	tags[len(tags)-1].Value = string(result)
	for _, t := range g.Tags {
		known := t.Name == "SetUp" || t.Name == "FEN" || !validTagName(t.Name) ||
			slices.ContainsFunc(rosterTags, func(r Tag) bool { return r.Name == t.Name })
		if !known {
			others = append(others, t)
		}
	}
	if g.Start != Start() {
		others = append(others, Tag{"SetUp", "1"}, Tag{"FEN", g.Start.FEN()})
	}
	slices.SortStableFunc(others, func(a, b Tag) int { return strings.Compare(a.Name, b.Name) })
	return append(tags, others...)
}

// validTagName says whether a name is letters, digits and underscores.
func validTagName(name string) bool {
	ok := func(c rune) bool {
		return c == '_' || c >= '0' && c <= '9' || c >= 'A' && c <= 'Z' || c >= 'a' && c <= 'z'
	}
	return name != "" && !strings.ContainsFunc(name, func(c rune) bool { return !ok(c) })
}

// escapeTag prints a tag value within its quotes: one line, quotes escaped.
func escapeTag(value string) string {
	value = strings.Map(func(c rune) rune {
		if c < ' ' || c == 0x7f {
			return ' '
		}
		return c
	}, value)
	return strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(value)
}

// moveWords are the move numbers and moves.
func (g *Game) moveWords() []string {
	var words []string
	p := g.Start
	for i, m := range g.Moves {
		if p.side == White {
			words = append(words, fmt.Sprintf("%d.", p.full))
		} else if i == 0 {
			words = append(words, fmt.Sprintf("%d...", p.full))
		}
		words = append(words, p.SAN(m))
		p.Make(m)
	}
	return words
}
