// SPDX-License-Identifier: Apache-2.0

package licences

import (
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// linked asks Go which modules are in the program for each system: path and version, and
// the folder of each.
func linked(t *testing.T) map[string]string {
	t.Helper()
	out := map[string]string{}
	for _, system := range []string{"linux", "darwin", "windows"} {
		c := exec.Command("go", "list", "-deps", "-f",
			"{{with .Module}}{{if not .Main}}{{.Path}} {{.Version}}\t{{.Dir}}{{end}}{{end}}", "boardhand/cmd/boardhand")
		c.Env = append(os.Environ(), "GOOS="+system)
		text, err := c.Output()
		if err != nil {
			t.Fatalf("go list: %v", err)
		}
		for line := range strings.Lines(string(text)) {
			if name, dir, ok := strings.Cut(strings.TrimSpace(line), "\t"); ok {
				out[name] = dir
			}
		}
	}
	if len(out) == 0 {
		t.Fatal("go list names no module")
	}
	return out
}

func TestEveryLinkedModuleHasItsTexts(t *testing.T) {
	all, err := All()
	if err != nil {
		t.Fatal(err)
	}
	want := linked(t)
	for _, m := range all {
		name := m.Path + " " + m.Version
		dir, ok := want[name]
		switch {
		case m.Path == "boardhand":
			dir = "../.."
		case m.Path == "go":
			dir = "" // another Go's text may differ in a line
		case !ok:
			t.Errorf("%s is embedded but not linked; run make licences", name)
			continue
		}
		delete(want, name)
		compare(t, m, dir)
	}
	for name := range want {
		t.Errorf("%s is linked without its licence; run make licences", name)
	}
}

// compare holds a module's texts against the files in its folder.
func compare(t *testing.T, m Module, dir string) {
	t.Helper()
	if len(m.Texts) == 0 {
		t.Errorf("%s has no text", m.Path)
	}
	for _, f := range m.Texts {
		if strings.TrimSpace(f.Text) == "" {
			t.Errorf("%s: %s is empty", m.Path, f.Name)
		}
		if dir == "" {
			continue
		}
		text, err := os.ReadFile(filepath.Join(dir, f.Name))
		if err != nil || string(text) != f.Text {
			t.Errorf("%s: %s is not the module's (%v); run make licences", m.Path, f.Name, err)
		}
	}
}

// Nothing under a GPL may be linked.
func TestNoCopyleft(t *testing.T) {
	all, err := All()
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range all {
		for _, f := range m.Texts {
			head := strings.ToUpper(f.Text[:min(len(f.Text), 600)])
			if strings.Contains(head, "GENERAL PUBLIC LICENSE") {
				t.Errorf("%s: %s is under a GPL", m.Path, f.Name)
			}
		}
	}
	if !slices.ContainsFunc(all, func(m Module) bool { return m.Path == "go" }) {
		t.Error("Go's own library is linked too, and is not named")
	}
}
