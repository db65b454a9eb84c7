// SPDX-License-Identifier: Apache-2.0

package rig

import (
	"bytes"
	"cmp"
	_ "embed"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"sort"
	"strings"

	"github.com/pelletier/go-toml/v2"
	"github.com/pelletier/go-toml/v2/unstable"
)

// DefaultText is the commented rig file that `boardhand new` writes.
//
//go:embed default.toml
var DefaultText string

// maxFile bounds what Load reads: a rig file is a few kilobytes.
const maxFile = 1 << 20

// Default is the machine of DefaultText.
func Default() *Rig {
	r, err := Parse("rig.toml", []byte(DefaultText), Machine)
	if err != nil {
		panic("rig: the built-in rig file is broken: " + err.Error()) // a programmer's mistake, caught by the tests
	}
	r.Path = ""
	return r
}

// Name is the rig's file, for messages.
func (r *Rig) Name() string {
	if r.Path == "" {
		return "the built-in rig"
	}
	return r.Path
}

// Load reads a rig file and checks that every key that need names is there.
func Load(path string, need Part) (*Rig, error) {
	data, err := ReadText(path)
	if err != nil {
		return nil, err
	}
	return Parse(path, data, need)
}

// ReadText reads the text of a rig file, which is no longer than one may be; what lies at
// its path may be anything, without end too.
func ReadText(path string) ([]byte, error) {
	f, err := os.Open(path)
	if errors.Is(err, os.ErrNotExist) {
		return nil, fmt.Errorf("%s: no such file; `boardhand new DIR` writes one to start from", path)
	}
	if err != nil {
		return nil, fmt.Errorf("cannot read the rig file: %w", err)
	}
	defer func() { _ = f.Close() }()
	if info, err := f.Stat(); err == nil && info.IsDir() {
		return nil, fmt.Errorf("%s is a folder: give the rig file in it, like %s", path, filepath.Join(path, "rig.toml"))
	}
	data, err := io.ReadAll(io.LimitReader(f, maxFile+1))
	if err != nil {
		return nil, fmt.Errorf("cannot read the rig file: %w", err)
	}
	if len(data) > maxFile {
		return nil, fmt.Errorf("%s: more than %d bytes is too long for a rig file", path, maxFile)
	}
	return data, nil
}

// mark is the byte order mark with which some editors, most of them on Windows, begin a
// file. It belongs to the encoding, not to the text (Unicode Standard, 23.8).
const mark = "\ufeff"

// Parse reads the text of a rig file. An unknown key, a missing unit, a value
// out of range or a missing key is an error with file, line, key and what is
// allowed; the first in file order is reported, with the number of others.
func Parse(path string, data []byte, need Part) (*Rig, error) {
	data = bytes.TrimPrefix(data, []byte(mark))
	entries, err := scan(path, data)
	if err != nil {
		return nil, err
	}
	kinds, faults := kindsGiven(entries)
	given := map[string]bool{}
	sch := schema(&kinds)
	for _, e := range entries {
		given[e.key] = true
		if f := e.check(sch); f != "" {
			faults = append(faults, fault{e.line, f})
		}
	}
	if len(faults) == 0 {
		if given["camera.dfov"] && given["camera.hfov"] {
			return nil, fmt.Errorf("%s: camera.hfov and camera.dfov say the same in two ways: keep the one that the lens was sold by", path)
		}
		given["camera.hfov"] = given["camera.hfov"] || given["camera.dfov"]
		faults = missing(given, need(&kinds))
	}
	if len(faults) > 0 {
		return nil, report(path, faults)
	}
	r := &Rig{Path: path, Pieces: Pieces{Shapes: Shapes{kinds: kinds}}}
	if err := errors.Join(toml.Unmarshal(data, r), r.Pieces.Shapes.read(data)); err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	r.complete()
	if err := r.consistent(given); err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	return r, nil
}

// fault is one thing wrong with the file; line 0 for a missing key.
type fault struct {
	line int
	text string
}

func report(path string, faults []fault) error {
	sort.SliceStable(faults, func(i, j int) bool { return faults[i].line < faults[j].line })
	where := path
	if l := faults[0].line; l > 0 {
		where = fmt.Sprintf("%s:%d", path, l)
	}
	more := ""
	if n := len(faults) - 1; n > 0 {
		more = fmt.Sprintf(" (and %d more to mend)", n)
	}
	return fmt.Errorf("%s: %s%s", where, faults[0].text, more)
}

func missing(given map[string]bool, need []string) []fault {
	var out []fault
	for _, k := range need {
		if !given[k] {
			out = append(out, fault{0, k + " is missing; " + example(k)})
		}
	}
	return out
}

// example tells what a key takes, for a message.
func example(key string) string {
	if l, ok := lookup(limits, key); ok {
		return "it takes " + strings.TrimSpace(l.lo) + " to " + l.hi
	}
	if w, ok := lookup(words, key); ok {
		return "it takes " + quoted(w)
	}
	return "see the file that `boardhand new DIR` writes"
}

func quoted(words []string) string { return `"` + strings.Join(words, `", "`) + `"` }

// lookup finds key, or key with its second part starred, in a table.
func lookup[T any](table map[string]T, key string) (T, bool) {
	if v, ok := table[key]; ok {
		return v, true
	}
	p := strings.Split(key, ".")
	if len(p) > 2 {
		p[1] = "*"
		v, ok := table[strings.Join(p, ".")]
		return v, ok
	}
	var none T
	return none, false
}

// scan lists every key with its line, by the parser of the TOML library.
func scan(path string, data []byte) ([]entry, error) {
	data = bytes.TrimPrefix(data, []byte(mark))
	// A full decode first: the low-level parser does not see every error.
	var any map[string]any
	if err := toml.Unmarshal(data, &any); err != nil {
		var de *toml.DecodeError
		if errors.As(err, &de) {
			row, _ := de.Position()
			return nil, fmt.Errorf("%s:%d: not valid TOML: %s%s", path, row, strings.TrimPrefix(de.Error(), "toml: "), commaHint(data, row))
		}
		return nil, fmt.Errorf("%s: not valid TOML: %s", path, strings.TrimPrefix(err.Error(), "toml: "))
	}
	var out []entry
	var p unstable.Parser
	p.Reset(data)
	table := ""
	for p.NextExpression() {
		e := p.Expression()
		switch e.Kind {
		case unstable.Table, unstable.ArrayTable:
			var line int
			table, line = dotted(&p, e)
			out = append(out, entry{key: table, line: line, kind: e.Kind})
		case unstable.KeyValue:
			out = append(out, values(&p, e, table)...)
		}
	}
	if err := p.Error(); err != nil {
		return nil, fmt.Errorf("%s: not valid TOML: %w", path, err)
	}
	return out, nil
}

// decimalComma is a number as half of Europe writes it.
var decimalComma = regexp.MustCompile(`=\s*(-?\d+),(\d+)\s*(#.*)?$`)

// commaHint tells the cause of a line that is no TOML where that is a decimal comma.
func commaHint(data []byte, row int) string {
	lines := strings.Split(string(data), "\n")
	if row < 1 || row > len(lines) {
		return ""
	}
	if m := decimalComma.FindStringSubmatch(strings.TrimRight(lines[row-1], "\r")); m != nil {
		return fmt.Sprintf("; write a decimal point: %s.%s", m[1], m[2])
	}
	return ""
}

func dotted(p *unstable.Parser, e *unstable.Node) (string, int) {
	var parts []string
	line := 0
	for it := e.Key(); it.Next(); {
		n := it.Node()
		if line == 0 {
			line = p.Shape(n.Raw).Start.Line
		}
		parts = append(parts, string(n.Data))
	}
	return strings.Join(parts, "."), line
}

func values(p *unstable.Parser, e *unstable.Node, table string) []entry {
	name, line := dotted(p, e)
	key := strings.TrimPrefix(table+"."+name, ".")
	v := e.Value()
	one := entry{key: key, line: line, kind: v.Kind, text: string(v.Data)}
	out := []entry{one}
	if v.Kind == unstable.InlineTable {
		for it := v.Children(); it.Next(); {
			out = append(out, values(p, it.Node(), key)...)
		}
	}
	if v.Kind == unstable.Array {
		for it := v.Children(); it.Next(); {
			n := it.Node()
			out[0].items = append(out[0].items, entry{key: key, line: line, kind: n.Kind, text: string(n.Data)})
		}
	}
	return out
}

// known lists the keys beside the unknown one: the nearest spelling first, then
// the others in the order of the file.
func known(sch map[string]field, key string) string {
	table, name := "", key
	if i := strings.LastIndex(key, "."); i >= 0 {
		table, name = key[:i+1], key[i+1:]
	}
	var near []string
	for k := range sch {
		rest, ok := strings.CutPrefix(k, table)
		if ok && !strings.Contains(rest, ".") {
			near = append(near, rest)
		}
	}
	slices.SortFunc(near, func(a, b string) int { return cmp.Compare(sch[table+a].place, sch[table+b].place) })
	if len(near) > 0 {
		first := slices.MinFunc(near, func(a, b string) int { return cmp.Compare(distance(name, a), distance(name, b)) })
		i := slices.Index(near, first)
		near = slices.Insert(slices.Delete(near, i, i+1), 0, first)
	}
	return strings.Join(near, ", ")
}

// distance is the Levenshtein distance: letters to change, add or drop.
func distance(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		diag := row[0]
		row[0] = i + 1
		for j := range len(b) {
			cost := diag
			if a[i] != b[j] {
				cost++
			}
			diag = row[j+1]
			row[j+1] = min(cost, row[j]+1, diag+1)
		}
	}
	return row[len(b)]
}

// value builds the typed value of an entry, for range checks.
func value(t reflect.Type, text string) (reflect.Value, error) {
	v := reflect.New(t)
	err := v.Interface().(interface{ UnmarshalText([]byte) error }).UnmarshalText([]byte(text))
	return v.Elem(), err
}
