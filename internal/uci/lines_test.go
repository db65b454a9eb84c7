// SPDX-License-Identifier: Apache-2.0

package uci

import (
	"slices"
	"strings"
	"testing"
	"testing/iotest"
)

func TestEachLine(t *testing.T) {
	long := strings.Repeat("x", 5<<20)
	for text, want := range map[string][]string{
		"":                           nil,
		"a\nb\r\n\nc":                {"a", "b", "", "c"},
		long + "\nbestmove e2e4\n":   {"bestmove e2e4"},
		"a\n" + long:                 {"a"},
		"12345678\n123456789\n12\n":  {"12345678", "12"},
		"12345678\n123456789\n123\n": {"12345678", "123"},
	} {
		longest := 8
		if len(text) > 1000 {
			longest = longLine
		}
		var got []string
		eachLine(iotest.HalfReader(strings.NewReader(text)), longest, func(s string) { got = append(got, s) })
		if !slices.Equal(got, want) {
			t.Errorf("%d bytes: %.60q, want %q", len(text), got, want)
		}
	}
}
