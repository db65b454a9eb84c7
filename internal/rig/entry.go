// SPDX-License-Identifier: Apache-2.0

package rig

import (
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"
)

// entry is one key of the file with the line it stands on.
type entry struct {
	key   string
	line  int
	kind  unstable.Kind
	text  string
	items []entry
	as    string // the rig's key whose range it takes, when not its own
	own   *limit // or a range or words of its own
	names []string
}

// ruled is the key whose range or words the entry takes.
func (e entry) ruled() string {
	if e.as != "" {
		return e.as
	}
	return e.key
}

// check returns what is wrong with the entry, or "".
func (e entry) check(sch map[string]field) string {
	f, ok := sch[e.key]
	if !ok {
		return e.unknown(sch)
	}
	isTable := e.kind == unstable.Table || e.kind == unstable.ArrayTable || e.kind == unstable.InlineTable
	switch {
	case f.table != isTable && f.table:
		return e.key + " is a group of keys; write [" + e.key + "]"
	case f.table:
		many := f.typ.Kind() == reflect.Slice
		if many != (e.kind == unstable.ArrayTable) {
			return fmt.Sprintf("%s must be written as %s", e.key, bracketed(e.key, many))
		}
		return ""
	case isTable:
		return e.key + " takes a single value; " + example(e.ruled())
	case f.list:
		return e.checkList(f)
	}
	return e.checkValue(f.typ)
}

func bracketed(key string, many bool) string {
	if many {
		return "[[" + key + "]]"
	}
	return "[" + key + "]"
}

func (e entry) unknown(sch map[string]field) string {
	if strings.HasPrefix(e.key, "accept.") {
		return e.checkReason()
	}
	if free(e.key) {
		return "" // axis names are the maker's
	}
	return fmt.Sprintf("unknown key %s; known here: %s", e.key, known(sch, e.key))
}

func (e entry) checkList(f field) string {
	if e.kind != unstable.Array {
		return e.key + ` takes a list in brackets, like ["500 mm", "1000 mm"] or [1280, 720]`
	}
	if n := f.typ; n.Kind() == reflect.Array && len(e.items) != n.Len() {
		return fmt.Sprintf("%s takes %d values; got %d", e.key, n.Len(), len(e.items))
	}
	for _, it := range e.items {
		if s := it.checkValue(f.typ.Elem()); s != "" {
			return s
		}
	}
	if e.ruled() == "camera.image" {
		return e.checkImage()
	}
	return ""
}

// limit is the range of the entry.
func (e entry) limit() (limit, bool) {
	if e.own != nil {
		return *e.own, true
	}
	return lookup(limits, e.ruled())
}

// words are those the entry takes.
func (e entry) words() ([]string, bool) {
	if e.names != nil {
		return e.names, true
	}
	return lookup(words, e.ruled())
}

// checkImage bounds the picture: below 320 × 240 a small board has too few
// pixels a square, above 8192 no camera for this job goes.
func (e entry) checkImage() string {
	for i, lo := range []int{320, 240} {
		v, err := strconv.Atoi(e.items[i].text)
		if err != nil || v < lo || v > 8192 {
			return fmt.Sprintf("camera.image must be [320–8192, 240–8192] pixels; got %s", e.items[i].text)
		}
	}
	return ""
}

func (e entry) checkValue(t reflect.Type) string {
	if quantity(t) {
		return e.checkQuantity(t)
	}
	switch t.Kind() {
	case reflect.String:
		return e.checkWord()
	case reflect.Bool:
		if e.kind != unstable.Bool {
			return fmt.Sprintf("%s takes true or false; got %s", e.key, e.text)
		}
		return ""
	case reflect.Int:
		if e.kind != unstable.Integer {
			return fmt.Sprintf("%s takes a whole number; got %s", e.key, e.text)
		}
	case reflect.Float64:
		if e.kind != unstable.Integer && e.kind != unstable.Float {
			return fmt.Sprintf("%s takes a plain number without unit; got %q", e.key, e.text)
		}
	}
	x, err := strconv.ParseFloat(strings.ReplaceAll(e.text, "_", ""), 64)
	if err != nil {
		return fmt.Sprintf("%s: %s is not a plain decimal number", e.key, e.text)
	}
	l, ok := e.limit()
	if !ok {
		return ""
	}
	lo, _ := strconv.ParseFloat(strings.TrimSpace(l.lo), 64)
	hi, _ := strconv.ParseFloat(l.hi, 64)
	if !(x >= lo && x <= hi) {
		return fmt.Sprintf("%s must be %s to %s; got %s", e.key, strings.TrimSpace(l.lo), l.hi, e.text)
	}
	return ""
}

func (e entry) checkQuantity(t reflect.Type) string {
	if e.kind != unstable.String {
		_, err := value(t, e.text)
		if err == nil {
			err = fmt.Errorf("write it as text")
		}
		return fmt.Sprintf("%s: %v", e.key, err)
	}
	v, err := value(t, e.text)
	if err != nil {
		return fmt.Sprintf("%s: %v", e.key, err)
	}
	l, ok := e.limit()
	if !ok {
		return ""
	}
	lo, errLo := value(t, l.lo)
	hi, errHi := value(t, l.hi)
	if errLo != nil || errHi != nil || !(v.Float() >= lo.Float() && v.Float() <= hi.Float()) {
		return fmt.Sprintf("%s must be %s to %s; got %s", e.key, l.lo, l.hi, e.text)
	}
	return ""
}

func (e entry) checkWord() string {
	if e.kind != unstable.String {
		return fmt.Sprintf(`%s takes text in quotes; got %s`, e.key, e.text)
	}
	if w, ok := e.words(); ok && !slices.Contains(w, e.text) {
		return fmt.Sprintf("%s must be one of %s; got %q", e.key, quoted(w), e.text)
	}
	return ""
}

// checkReason checks a line of [accept]: a check's name, alone or in quotes, and why.
func (e entry) checkReason() string {
	switch {
	case e.kind == unstable.Table || e.kind == unstable.InlineTable: // [accept.camera], or the dots of a name
		return ""
	case e.kind != unstable.String || strings.TrimSpace(e.text) == "":
		return e.key + ` takes the reason in quotes, like "we play slowly"`
	}
	return ""
}

// free says whether the names in a table are the maker's own.
func free(key string) bool {
	return strings.HasPrefix(key, "controller.motor.") || strings.HasPrefix(key, "accept.")
}
