// SPDX-License-Identifier: Apache-2.0

package main

import (
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"testing"
)

// TestSameNameSamePictures holds what povray is told of sessions that are
// in use elsewhere: cards and trained heads rest on their pictures.
func TestSameNameSamePictures(t *testing.T) {
	want := map[string]string{
		"tune01":  "92c3df77e0ad5f16",
		"valid03": "4d09445311e43d81",
		"gate06":  "4ab858f0b932dc2b",
		"heads02": "41752ad5b8ce34f9",
	}
	for name, sum := range want {
		d := diceFor(name)
		s, shots, err := planSession(d, options{}, name)
		if err != nil {
			t.Fatal(err)
		}
		dir := t.TempDir()
		st, err := newStudio(d, s, dir)
		if err != nil {
			t.Fatal(err)
		}
		h := sha256.New()
		inc, err := os.ReadFile(filepath.Join(dir, "session.inc"))
		if err != nil {
			t.Fatal(err)
		}
		h.Write(inc)
		for _, sh := range shots {
			h.Write([]byte(st.text(sh)))
			line, err := json.Marshal(sh.truth)
			if err != nil {
				t.Fatal(err)
			}
			h.Write(line)
		}
		fmt.Fprint(h, d.Uint64(), s.rig(), s.camera(shots).About)
		if got := fmt.Sprintf("%x", h.Sum(nil))[:16]; got != sum {
			t.Errorf("%s: what is drawn has changed: %s, was %s", name, got, sum)
		}
	}
}
