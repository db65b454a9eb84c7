// SPDX-License-Identifier: Apache-2.0

package rig

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
)

// Settings lists what a rig says, in the order of the rig file: what was given, and what was
// taken for keys that were left out. Keys of which nothing is known are not listed.
func (r *Rig) Settings() []Setting { return settings(reflect.ValueOf(*r), "") }

func settings(table reflect.Value, prefix string) (out []Setting) {
	for _, k := range keysOf(table) {
		key, v := strings.TrimPrefix(prefix+"."+k.key, "."), k.value
		if v.Kind() == reflect.Pointer && !v.IsNil() {
			v = v.Elem()
		}
		switch {
		case v.IsZero():
		case v.Kind() == reflect.Struct && !quantity(v.Type()):
			out = append(out, settings(v, key)...)
		case v.Kind() == reflect.Slice && v.Type().Elem().Kind() == reflect.Struct:
			for i := range v.Len() {
				out = append(out, settings(v.Index(i), fmt.Sprintf("%s %d", key, i+1))...)
			}
		case v.Kind() == reflect.Map:
			names := v.MapKeys()
			slices.SortFunc(names, func(a, b reflect.Value) int { return strings.Compare(a.String(), b.String()) })
			for _, name := range names {
				out = append(out, Setting{key + "." + name.String(), fmt.Sprint(v.MapIndex(name).Interface())})
			}
		default:
			out = append(out, Setting{key, strings.Trim(fmt.Sprint(v.Interface()), "[]")})
		}
	}
	return out
}
