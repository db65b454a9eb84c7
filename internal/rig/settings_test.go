// SPDX-License-Identifier: Apache-2.0

package rig

import (
	"strings"
	"testing"

	"github.com/pelletier/go-toml/v2"
)

// Every key of the file that `new` writes is listed, as the TOML library reads it, with its value.
func TestSettingsHoldTheWholeFile(t *testing.T) {
	listed := map[string]string{}
	for _, s := range Default().Settings() {
		listed[s.Key] = s.Value
	}
	var file map[string]any
	if err := toml.Unmarshal([]byte(DefaultText), &file); err != nil {
		t.Fatal(err)
	}
	n := 0
	var look func(prefix string, table map[string]any)
	look = func(prefix string, table map[string]any) {
		for name, v := range table {
			key := strings.TrimPrefix(prefix+"."+name, ".")
			if sub, ok := v.(map[string]any); ok {
				look(key, sub)
				continue
			}
			if _, many := v.([]any); many && name == "cable" {
				continue
			}
			n++
			if _, ok := listed[key]; !ok {
				t.Errorf("%s is not listed", key)
			}
		}
	}
	look("", file)
	if n < 60 {
		t.Errorf("only %d keys were compared", n)
	}
	for key, want := range map[string]string{"board.square": "40 mm", "camera.image": "1280 720", "cable 2.to": "y", "cable 2.owned": "500 mm 1000 mm", "play.side": "black",
		"axis.x.origin": "168 mm", "board.files": "8", "axis.y.rows": "1"} { // the last three were left out, or taken
		if listed[key] != want {
			t.Errorf("%s is %q, want %q", key, listed[key], want)
		}
	}
}
