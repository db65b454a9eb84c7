// SPDX-License-Identifier: Apache-2.0

package rig

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"
)

// Patch writes a value into the text of a rig file and leaves all else, notes
// included, as it is. The value is as it stands in the file: `"6 mm"`, `0.3`.
// A key that is not there yet is added to its table. Tables of a list are counted from 0:
// "cable.1.owned" is that of the second [[cable]], and must be there.
func Patch(text, key, value string) (string, error) {
	text = strings.TrimPrefix(text, mark)
	at, ok, err := find(text, key)
	if err != nil {
		return "", err
	}
	if ok {
		return text[:at.from] + value + text[at.to:], nil
	}
	table, name := "", key
	if i := strings.LastIndex(key, "."); i >= 0 {
		table, name = key[:i], key[i+1:]
	}
	line := name + " = " + value + "\n"
	if at, ok := afterHead(text, table); ok {
		return text[:at] + line + text[at:], nil
	}
	if at, ok, err = find(text, table); err == nil && ok { // an inline table
		inner := strings.TrimSpace(strings.Trim(strings.TrimSpace(text[at.from:at.to]), "{}"))
		if inner != "" {
			inner += ", "
		}
		return text[:at.from] + "{ " + inner + name + " = " + value + " }" + text[at.to:], err
	}
	return strings.TrimRight(text, "\n") + "\n\n[" + table + "]\n" + line, nil
}

// stretch is a piece of the text.
type stretch struct{ from, to int }

// find gives where the value of a key stands.
func find(text, key string) (stretch, bool, error) {
	var p unstable.Parser
	p.Reset([]byte(text))
	table, seen := "", map[string]int{}
	for p.NextExpression() {
		e := p.Expression()
		switch e.Kind {
		case unstable.Table:
			table, _ = dotted(&p, e)
		case unstable.ArrayTable:
			table, _ = dotted(&p, e)
			seen[table]++
			table += "." + strconv.Itoa(seen[table]-1)
		case unstable.KeyValue:
			if at, ok := within(&p, text, e, table, key); ok {
				return at, true, nil
			}
		}
	}
	if err := p.Error(); err != nil {
		return stretch{}, false, fmt.Errorf("not valid TOML: %w", err)
	}
	return stretch{}, false, nil
}

// within looks for the key in one expression and the inline tables in it.
func within(p *unstable.Parser, text string, e *unstable.Node, table, key string) (stretch, bool) {
	name, _ := dotted(p, e)
	full := strings.TrimPrefix(table+"."+name, ".")
	if full == key {
		return valueAfter(text, e), true
	}
	v := e.Value()
	if v.Kind != unstable.InlineTable || !strings.HasPrefix(key, full+".") {
		return stretch{}, false
	}
	for it := v.Children(); it.Next(); {
		if at, ok := within(p, text, it.Node(), full, key); ok {
			return at, true
		}
	}
	return stretch{}, false
}

// valueAfter is where the value stands: from behind the equals sign after the
// key's last part up to the value's own end.
func valueAfter(text string, e *unstable.Node) stretch {
	end := 0
	for it := e.Key(); it.Next(); {
		end = int(it.Node().Raw.Offset + it.Node().Raw.Length)
	}
	from := end + strings.IndexByte(text[end:], '=') + 1
	for from < len(text) && (text[from] == ' ' || text[from] == '\t') {
		from++
	}
	return stretch{from, from + span(text[from:])}
}

// span is the length of the TOML value that text begins with.
func span(text string) int {
	depth, quote := 0, byte(0)
	for i := 0; i < len(text); i++ {
		c := text[i]
		switch {
		case quote != 0:
			if c == '\\' && quote == '"' {
				i++
			} else if c == quote {
				quote = 0
				if depth == 0 {
					return i + 1
				}
			}
		case c == '"' || c == '\'':
			quote = c
		case c == '{' || c == '[':
			depth++
		case depth > 0 && (c == '}' || c == ']'):
			depth--
			if depth == 0 {
				return i + 1
			}
		case depth == 0 && strings.IndexByte(" \t\r\n,#}]", c) >= 0:
			return i
		}
	}
	return len(text)
}

// afterHead is the place behind the line that opens a table.
func afterHead(text, table string) (int, bool) {
	at := 0
	for _, line := range strings.SplitAfter(text, "\n") {
		at += len(line)
		head, _, _ := strings.Cut(line, "#")
		if strings.TrimSpace(head) == "["+table+"]" {
			if !strings.HasSuffix(line, "\n") {
				return 0, false
			}
			return at, true
		}
	}
	return 0, false
}
