// SPDX-License-Identifier: Apache-2.0

package rig

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"reflect"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// Setting is one key of a rig file with a value.
type Setting struct {
	Key   string `json:"key"`
	Value string `json:"value"`
}

// ParseSetting reads "key=value".
func ParseSetting(text string) (Setting, error) {
	key, value, ok := strings.Cut(text, "=")
	s := Setting{strings.TrimSpace(key), strings.TrimSpace(value)}
	if !ok || s.Key == "" || s.Value == "" {
		return Setting{}, fmt.Errorf("%q must be a key and its value, like board.square=40mm", text)
	}
	return s, nil
}

// Set is the rig of a file's text with some keys set, as if the maker had
// written them there; the text stays as it is. A value may lack the quotes and
// brackets that the file wants.
func Set(path string, data []byte, settings []Setting, need Part) (*Rig, error) {
	text := string(data)
	for _, s := range settings {
		value, err := literal([]byte(text), s)
		if err != nil {
			return nil, err
		}
		if text, err = Patch(text, s.Key, value); err != nil {
			return nil, fmt.Errorf("%s: %w", path, err)
		}
	}
	return Parse(path, []byte(text), need)
}

// literal is the value of a setting as a rig file has it, found right for its key.
func literal(data []byte, s Setting) (string, error) {
	entries, err := scan("the rig file", data)
	if err != nil {
		return "", err
	}
	kinds, _ := kindsGiven(entries)
	sch := schema(&kinds)
	f, ok := sch[s.Key]
	switch {
	case !ok && !free(s.Key):
		return "", fmt.Errorf("there is no key %s; nearest: %s", s.Key, strings.Join(Nearest(s.Key, slices.Collect(maps.Keys(leaves(sch)))), ", "))
	case f.table:
		return "", fmt.Errorf("%s is a group of keys; set one of them, like %s", s.Key, strings.Join(Nearest(s.Key, slices.Collect(maps.Keys(leaves(sch)))), ", "))
	case f.isListed(sch, s.Key):
		return "", fmt.Errorf("%s stands in a list of tables; change it in the file", s.Key)
	}
	value := s.Value
	switch text := !ok || quantity(f.typ) || f.typ.Kind() == reflect.String; {
	case text && value[0] != '"' && value[0] != '\'':
		value = strconv.Quote(value)
	case f.list && value[0] != '[':
		value = "[" + value + "]"
	}
	given, err := scan("value", []byte("value = "+value+"\n"))
	if err != nil || len(given) != 1 {
		return "", fmt.Errorf("%s: %s is no value of a rig file", s.Key, s.Value)
	}
	e := given[0]
	e.key = s.Key
	for i := range e.items {
		e.items[i].key = s.Key
	}
	if fault := e.check(sch); fault != "" {
		return "", fmt.Errorf("%s", fault)
	}
	return value, nil
}

// isListed says whether a key stands in an array of tables.
func (f field) isListed(sch map[string]field, key string) bool {
	for i := strings.LastIndex(key, "."); i > 0; i = strings.LastIndex(key[:i], ".") {
		if t := sch[key[:i]]; t.table && t.typ.Kind() == reflect.Slice {
			return true
		}
	}
	return false
}

// leaves are the keys that hold a value.
func leaves(sch map[string]field) map[string]field {
	out := map[string]field{}
	for k, f := range sch {
		if !f.table && !f.isListed(sch, k) {
			out[k] = f
		}
	}
	return out
}

// Nearest are the names most like one that does not exist, likest first.
func Nearest(name string, names []string) []string {
	last := name[strings.LastIndex(name, ".")+1:]
	slices.SortFunc(names, func(a, b string) int {
		way := func(s string) int { return min(distance(name, s), distance(last, s[strings.LastIndex(s, ".")+1:])+1) }
		if d := way(a) - way(b); d != 0 {
			return d
		}
		return strings.Compare(a, b)
	})
	return names[:min(nearest, len(names))]
}

// amount is a number with its unit, or without.
var amount = regexp.MustCompile(`^(-?[0-9]*\.?[0-9]+)\s*([^0-9\s.,].*)?$`)

// Sweep is one key with the values that it takes one after another.
type Sweep struct {
	Key    string
	Unit   string // as written; "" for a plain number
	Values []float64
}

// ParseSweep reads "key=from:to:step", all in one unit, which may be written once.
func ParseSweep(text string) (Sweep, error) {
	s, err := ParseSetting(text)
	part := strings.Split(s.Value, ":")
	if err != nil || len(part) != 3 {
		return Sweep{}, fmt.Errorf("%q must be a key with first value, last value and step, like board.square=38:50:2mm", text)
	}
	out, at := Sweep{Key: s.Key}, [3]float64{}
	for i, p := range part {
		m := amount.FindStringSubmatch(strings.TrimSpace(p))
		if m == nil {
			return Sweep{}, fmt.Errorf("%s: %q is no number", s.Key, p)
		}
		if at[i], err = strconv.ParseFloat(m[1], 64); err != nil {
			return Sweep{}, fmt.Errorf("%s: %q is no number", s.Key, p)
		}
		if m[2] != "" && out.Unit != "" && m[2] != out.Unit {
			return Sweep{}, fmt.Errorf("%s: write all three in one unit; got %s and %s", s.Key, out.Unit, m[2])
		}
		out.Unit = cmp.Or(out.Unit, m[2])
	}
	steps := (at[1] - at[0]) / at[2]
	if !(steps >= 0 && steps < mostSteps) {
		return Sweep{}, fmt.Errorf("%s from %g to %g by %g must be 1 to %d values", s.Key, at[0], at[1], at[2], mostSteps)
	}
	for i := range int(steps+stepSlack) + 1 {
		out.Values = append(out.Values, math.Round((at[0]+float64(i)*at[2])*1e9)/1e9) // as written, not as binary fractions add up
	}
	return out, nil
}

// Setting is the key with its i-th value.
func (s Sweep) Setting(i int) Setting {
	return Setting{s.Key, strings.TrimSpace(strconv.FormatFloat(s.Values[i], 'f', -1, 64) + " " + s.Unit)}
}
