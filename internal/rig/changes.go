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
	others := map[string]reflect.Value{}
	for _, k := range keysOf(b) {
		others[k.key] = k.value
	}
	for _, k := range keysOf(a) {
		key := strings.TrimPrefix(prefix+"."+k.key, ".")
		x, y := k.value, others[k.key]
		if !y.IsValid() { // a kind that the other rig lacks: its pieces.kinds differs
			continue
		}
		switch {
		case x.Kind() == reflect.Struct && !quantity(x.Type()):
			keys = append(keys, changes(x, y, key)...)
		case !reflect.DeepEqual(x.Interface(), y.Interface()) && !slices.Contains(keys, key):
			keys = append(keys, key)
		}
	}
	return keys
}
