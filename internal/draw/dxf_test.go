// SPDX-License-Identifier: Apache-2.0

package draw

import (
	"bytes"
	"strconv"
	"strings"
	"testing"
)

// readGroups reads a DXF as pairs of code and value.
func readGroups(t *testing.T, text string) (out [][2]string) {
	t.Helper()
	lines := strings.Split(strings.TrimSuffix(text, "\n"), "\n")
	if len(lines)%2 != 0 {
		t.Fatalf("%d lines: a group is two", len(lines))
	}
	for k := 0; k < len(lines); k += 2 {
		if _, err := strconv.Atoi(strings.TrimSpace(lines[k])); err != nil {
			t.Fatalf("line %d: %q is no group code", k+1, lines[k])
		}
		out = append(out, [2]string{strings.TrimSpace(lines[k]), lines[k+1]})
	}
	return out
}

func TestDXFHasWhatWasDrawn(t *testing.T) {
	var b bytes.Buffer
	if err := WriteDXF(&b, marks()); err != nil {
		t.Fatal(err)
	}
	groups, n := readGroups(t, b.String()), map[string]int{}
	for k, g := range groups {
		if g[0] == "0" {
			n[g[1]]++
		}
		if g[0] == "0" && g[1] == "CIRCLE" {
			if got := groups[k+1 : k+6]; got[0][1] != "CUT" || got[1][1] != "60.0000" || got[2][1] != "45.0000" || got[4][1] != "20.0000" {
				t.Errorf("the circle is written as %v", got)
			}
		}
	}
	if n["LINE"] != 2 || n["CIRCLE"] != 1 || n["TEXT"] != 1 || n["SECTION"] != 3 || n["ENDSEC"] != 3 || n["EOF"] != 1 {
		t.Errorf("entities: %v", n)
	}
	if !strings.Contains(b.String(), `%%c 40 %%p 0,1 <mm>`) {
		t.Error("signs of drawings are not written by their codes")
	}
	for i, c := range b.Bytes() {
		if c > 126 {
			t.Fatalf("byte %d of the file is not ASCII", i)
		}
	}
}
