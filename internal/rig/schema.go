// SPDX-License-Identifier: Apache-2.0

package rig

import (
	"encoding"
	"reflect"
	"strings"
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
// read from the struct tags, so that the file and the struct cannot differ.
func schema() map[string]field {
	s := map[string]field{}
	walk(reflect.TypeFor[Rig](), "", s)
	return s
}

func walk(t reflect.Type, prefix string, s map[string]field) {
	for i := range t.NumField() {
		f := t.Field(i)
		name := f.Tag.Get("toml")
		if name == "-" || name == "" {
			continue
		}
		key := strings.TrimPrefix(prefix+"."+name, ".")
		ft := f.Type
		if ft.Kind() == reflect.Pointer { // one that may be left out
			ft = ft.Elem()
		}
		switch {
		case quantity(ft):
			s[key] = field{typ: ft, place: len(s)}
		case ft.Kind() == reflect.Struct:
			s[key] = field{typ: ft, table: true, place: len(s)}
			walk(ft, key, s)
		case ft.Kind() == reflect.Slice && ft.Elem().Kind() == reflect.Struct:
			s[key] = field{typ: ft, table: true, place: len(s)}
			walk(ft.Elem(), key, s)
		case ft.Kind() == reflect.Slice || ft.Kind() == reflect.Array:
			s[key] = field{typ: ft, list: true, place: len(s)}
		case ft.Kind() == reflect.Map:
			s[key] = field{typ: ft, table: true, place: len(s)}
		default:
			s[key] = field{typ: ft, place: len(s)}
		}
	}
}
