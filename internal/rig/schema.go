// SPDX-License-Identifier: Apache-2.0

package rig

import (
	"encoding"
	"reflect"
	"strings"

	"boardhand/internal/game"
)

// field is what one key of the file must hold.
type field struct {
	typ   reflect.Type
	table bool // a table or an array of tables
	list  bool // a TOML array of values
	place int  // in the file that new writes
}

var textual = reflect.TypeFor[encoding.TextUnmarshaler]()

// quantity says whether values of t are written as text with a unit.
func quantity(t reflect.Type) bool { return reflect.PointerTo(t).Implements(textual) }

// schema lists every dotted key of the rig file with what it must hold. It is
// read from the struct tags, so that the file and the struct cannot differ, and
// from the kinds of pieces.
func schema(kinds *game.Kinds) map[string]field {
	s := map[string]field{}
	walk(reflect.ValueOf(Rig{Pieces: Pieces{Shapes: Shapes{kinds: *kinds}}}), "", s)
	return s
}

// keyed is the value of one key of a table.
type keyed struct {
	key   string
	value reflect.Value
}

// keysOf are the keys of a struct with their values, in the order of the file.
// Shapes of pieces go by their kinds.
func keysOf(v reflect.Value) (out []keyed) {
	for i := range v.NumField() {
		f := v.Type().Field(i)
		if f.Type == reflect.TypeFor[Shapes]() {
			shapes := v.Field(i).Interface().(Shapes)
			for _, k := range shapes.kinds.All() {
				out = append(out, keyed{shapes.kinds.Key(k), reflect.ValueOf(shapes.of[k])})
			}
			continue
		}
		if name, _, _ := strings.Cut(f.Tag.Get("toml"), ","); name != "-" && name != "" {
			out = append(out, keyed{name, v.Field(i)})
		}
	}
	return out
}

func walk(table reflect.Value, prefix string, s map[string]field) {
	for _, k := range keysOf(table) {
		key := strings.TrimPrefix(prefix+"."+k.key, ".")
		v := k.value
		if v.Kind() == reflect.Pointer { // one that may be left out
			v = reflect.Zero(v.Type().Elem())
		}
		t := v.Type()
		switch {
		case quantity(t):
			s[key] = field{typ: t, place: len(s)}
		case t.Kind() == reflect.Struct:
			s[key] = field{typ: t, table: true, place: len(s)}
			walk(v, key, s)
		case t.Kind() == reflect.Slice && t.Elem().Kind() == reflect.Struct:
			s[key] = field{typ: t, table: true, place: len(s)}
			walk(reflect.Zero(t.Elem()), key, s)
		case t.Kind() == reflect.Slice || t.Kind() == reflect.Array:
			s[key] = field{typ: t, list: true, place: len(s)}
		case t.Kind() == reflect.Map:
			s[key] = field{typ: t, table: true, place: len(s)}
		default:
			s[key] = field{typ: t, place: len(s)}
		}
	}
}
