// SPDX-License-Identifier: Apache-2.0

package rig

import (
	"reflect"
	"slices"
	"strings"
)

// Changes lists the keys whose values differ between two rigs, in the order of
// the rig file. Other ways to write the same value do not count.
func Changes(a, b *Rig) []string {
	return changes(reflect.ValueOf(*a), reflect.ValueOf(*b), "")
}

func changes(a, b reflect.Value, prefix string) (keys []string) {
	for i := range a.NumField() {
		f := a.Type().Field(i)
		name := f.Tag.Get("toml")
		if name == "-" || name == "" {
			continue
		}
		key := strings.TrimPrefix(prefix+"."+name, ".")
		x, y := a.Field(i), b.Field(i)
		switch {
		case f.Type.Kind() == reflect.Struct && !quantity(f.Type):
			keys = append(keys, changes(x, y, key)...)
		case !reflect.DeepEqual(x.Interface(), y.Interface()) && !slices.Contains(keys, key):
			keys = append(keys, key)
		}
	}
	return keys
}
