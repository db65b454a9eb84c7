// SPDX-License-Identifier: Apache-2.0

package rehearsal

import (
	"os"
	"path/filepath"
	"testing"
)

// What no rehearsal prints is not added up.
func TestWhatIsNoShard(t *testing.T) {
	for text, isOne := range map[string]bool{
		`{"games":1,"misread":3}`:             true,
		`{"games":1,"misread":3}` + "\n":      true,
		`{"games":1,"misread":-3}`:            false,
		`{"games":1,"misread":3,"Misread":0}`: false,
		`{"games":1,"misread":3}{"games":1}`:  false,
		`{"games":1,"mistakes":3}`:            false,
	} {
		name := filepath.Join(t.TempDir(), "a.json")
		if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		if got, err := readShard(name); (err == nil) != isOne {
			t.Errorf("%s was read as %+v, %v", text, got, err)
		}
	}
}

// Whatever a shard's file holds, what is added up is no less than nothing.
func FuzzReadShard(f *testing.F) {
	f.Add(`{"games":1,"misread":-3}`)
	f.Add(`{"games":2,"plies":40,"misread":0}`)
	f.Add(`{"shard":"1/2","Games":1}`)
	f.Add("[")
	f.Fuzz(func(t *testing.T, text string) {
		name := filepath.Join(t.TempDir(), "a.json")
		if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		if got, err := readShard(name); err == nil && got.isNegative() {
			t.Errorf("%s was read as %+v", text, got)
		}
	})
}
