// SPDX-License-Identifier: Apache-2.0

package rig

import (
	"strings"
	"testing"
)

func TestChanges(t *testing.T) {
	for _, c := range []struct {
		name, from, to, want string
	}{
		{"none", "", "", ""},
		{"another way to write it", `square = "40 mm"`, `square = "4 cm"`, ""},
		{"square", `square = "40 mm"`, `square = "45 mm"`, "board.square"},
		{"side", `side = "black"`, `side = "white"`, "play.side"},
		{"picture", "image = [1280, 720]", "image = [1920, 1080]", "camera.image"},
	} {
		text := DefaultText
		if !strings.Contains(text, c.from) {
			t.Fatalf("%s: the default rig has no %s", c.name, c.from)
		}
		was, err := Parse("a", []byte(text), Machine)
		if err != nil {
			t.Fatal(err)
		}
		is, err := Parse("b", []byte(strings.Replace(text, c.from, c.to, 1)), Machine)
		if err != nil {
			t.Fatal(err)
		}
		if got := strings.Join(Changes(was, is), " "); got != c.want {
			t.Errorf("%s: changed are %q, want %q", c.name, got, c.want)
		}
	}
}
