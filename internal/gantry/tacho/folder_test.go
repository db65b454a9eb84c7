// SPDX-License-Identifier: Apache-2.0

package tacho

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"testing"

	"boardhand/internal/gantry"
)

// The system's folder is read and written attribute by attribute; what is not there
// is not made.
func TestSysfs(t *testing.T) {
	dir := t.TempDir()
	s := Sysfs(dir)
	if names, err := Sysfs(filepath.Join(dir, "none")).List(); len(names) != 0 || err != nil {
		t.Errorf("without the class: %q %v", names, err)
	}
	if err := os.MkdirAll(filepath.Join(dir, "motor4"), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "motor4", "address"), []byte("ports:outA\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	m := &motor{address: "outA", folder: &heard{Folder: s, clock: func() gantry.Clock { return gantry.RealTime{} }}}
	if err := m.find(); err != nil || m.name != "motor4" {
		t.Errorf("%q %v", m.name, err)
	}
	if err := s.Write("motor4/address", "else"); err != nil {
		t.Error(err)
	}
	if err := s.Write("motor4/command", "stop"); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("an attribute that is not there: %v", err)
	}
}
