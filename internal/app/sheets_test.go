// SPDX-License-Identifier: Apache-2.0

package app

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"boardhand/internal/rig"
)

func TestSheetsCommand(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "rig.toml")
	if err := os.WriteFile(path, []byte(rig.DefaultText), 0o644); err != nil {
		t.Fatal(err)
	}
	out := filepath.Join(dir, "sheets")
	code, said, errs := cli(t, "sheets", path, "-o", out, "--only", "board,plan")
	if code != fine || !strings.Contains(said, "index.html") {
		t.Fatalf("exit %d: %s%s", code, said, errs)
	}
	for _, name := range []string{"board.pdf", "board.svg", "board.dxf", "plan.pdf", "plan.svg", "all.pdf", "index.html"} {
		if info, err := os.Stat(filepath.Join(out, name)); err != nil || info.Size() == 0 {
			t.Errorf("%s: %v", name, err)
		}
	}
	if code, _, errs := cli(t, "sheets", path); code != badInput || !strings.Contains(errs, "output") {
		t.Errorf("without a folder: exit %d, %s", code, errs)
	}
}

// Sheets of a rig that is not to be built are drawn, say so, and the answer is "no".
func TestSheetsOfAFailingRig(t *testing.T) {
	dir := t.TempDir()
	text, err := rig.Patch(rig.DefaultText, "board.thickness", `"14 mm"`)
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(dir, "rig.toml")
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	code, said, _ := cli(t, "sheets", path, "-o", dir, "--only", "plan")
	if code != no || !strings.Contains(said, "boardhand assess") {
		t.Errorf("exit %d: %s", code, said)
	}
	picture, err := os.ReadFile(filepath.Join(dir, "plan.svg"))
	if err != nil || !strings.Contains(string(picture), "Not to be built") {
		t.Errorf("the plan does not say so: %v", err)
	}
}
