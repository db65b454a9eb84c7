// SPDX-License-Identifier: Apache-2.0

package store

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"golang.org/x/sys/unix"
)

// smallDisk mounts a disk in memory; only root can.
func smallDisk(t *testing.T, size string) string {
	t.Helper()
	dir := t.TempDir()
	if err := unix.Mount("tmpfs", dir, "tmpfs", 0, "size="+size); err != nil {
		t.Skipf("no small disk can be mounted: %v", err)
	}
	t.Cleanup(func() { _ = unix.Unmount(dir, unix.MNT_DETACH) })
	return dir
}

// fill takes all the room that is left.
func fill(t *testing.T, dir string) string {
	t.Helper()
	f, err := os.Create(filepath.Join(dir, "filler"))
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = f.Close() }()
	for _, size := range []int{64 << 10, 4 << 10, 1} {
		for block := make([]byte, size); err == nil; {
			_, err = f.Write(block)
		}
		if !errors.Is(err, syscall.ENOSPC) {
			t.Fatal(err)
		}
		err = nil
	}
	return f.Name()
}

// readsOne reads a store that cannot be written.
func readsOne(t *testing.T, dir string, entries int) {
	t.Helper()
	r, warning, err := OpenToRead(dir)
	if err != nil || warning != "" {
		t.Fatalf("it cannot be read: %v %s", err, warning)
	}
	defer func() { _ = r.Close() }()
	if games, err := r.Games(t.Context()); err != nil || len(games) != 1 || games[0].Damaged != nil {
		t.Errorf("the games are %+v, %v", games, err)
	}
	if es, err := r.Entries(t.Context(), 1); err != nil || len(es) != entries {
		t.Errorf("%d entries, %v", len(es), err)
	}
	if err := r.Intact(t.Context()); err != nil {
		t.Error(err)
	}
}

func wantFault(t *testing.T, err error, kind FaultKind) {
	t.Helper()
	var f *Fault
	if !errors.As(err, &f) || f.Kind != kind {
		t.Errorf("got %v, want %s", err, kind)
		return
	}
	for _, bad := range []string{"not a readable store", "SQL logic"} {
		if strings.Contains(f.Error(), bad) || kind != Malformed && strings.Contains(f.Error(), "put a copy in its place") {
			t.Errorf("a healthy store is called broken: %v", f)
		}
	}
}

// On a full disk the store can be read, writing says that the disk is full, and
// with room again the game goes on.
func TestFullDisk(t *testing.T) {
	dir := smallDisk(t, "1m")
	s, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	id := writeGame(t, s, "1", "2")
	_ = s.Close()
	filler := fill(t, dir)
	readsOne(t, dir, 2)
	_, err = Open(dir)
	wantFault(t, err, Full)
	_ = os.Remove(filler)
	s = open(t, dir)
	filler = fill(t, dir)
	for err = nil; err == nil; {
		err = s.Append(t.Context(), id, Entry{State: "reading", Note: strings.Repeat("x", 2000)}, nil)
	}
	wantFault(t, err, Full)
	_ = os.Remove(filler)
	if err := s.Append(t.Context(), id, Entry{State: "reading", Move: "e2e4"}, []byte("jpeg")); err != nil {
		t.Errorf("with room again: %v", err)
	}
}

// When the disk is full, pictures of games that are over make room; when there
// are none, only the picture is lost.
func TestFullDiskMakesRoom(t *testing.T) {
	dir := smallDisk(t, "1m")
	s := open(t, dir)
	id := writeGame(t, s)
	if err := s.Append(t.Context(), id, Entry{State: "reading"}, make([]byte, 300<<10)); err != nil {
		t.Fatal(err)
	}
	if err := s.Finish(t.Context(), id, "1-0", "checkmate"); err != nil {
		t.Fatal(err)
	}
	id = writeGame(t, s)
	var said []string
	s.Warn = func(text string) { said = append(said, text) }
	for range 4 {
		err := s.Append(t.Context(), id, Entry{State: "reading"}, make([]byte, 250<<10))
		var lost *PictureError
		if err != nil && !errors.As(err, &lost) {
			t.Fatal(err)
		}
	}
	if len(said) != 1 || !strings.Contains(said[0], "the disk is full: the pictures of game 1 were removed") {
		t.Errorf("it said %q", said)
	}
	if es, err := s.Entries(t.Context(), id); err != nil || len(es) != 4 || es[0].Picture == "" || es[3].Picture != "" {
		t.Errorf("the entries are %+v, %v", es, err)
	}
}

// A disk mounted read-only, while a -wal is left by a killed writer too.
func TestReadOnlyDisk(t *testing.T) {
	for _, killed := range []bool{false, true} {
		dir := smallDisk(t, "2m")
		s, err := Open(dir)
		if err != nil {
			t.Fatal(err)
		}
		id := writeGame(t, s, "1")
		if err := s.Append(t.Context(), id, Entry{State: "reading", Note: "2"}, nil); err != nil {
			t.Fatal(err)
		}
		if killed {
			copied := smallDisk(t, "2m")
			for _, end := range []string{"", "-wal"} {
				if err := copyFile(s.file+end, filepath.Join(copied, fileName+end)); err != nil {
					t.Fatal(err)
				}
			}
			dir = copied
		}
		_ = s.Close()
		if err := unix.Mount("", dir, "", unix.MS_REMOUNT|unix.MS_RDONLY, ""); err != nil {
			t.Skip(err)
		}
		readsOne(t, dir, 2)
		_, err = Open(dir)
		wantFault(t, err, ReadOnly)
	}
}

// A folder that this user may not write. Root may write everywhere.
func TestForbiddenFolder(t *testing.T) {
	if os.Getuid() == 0 {
		t.Skip("root may write everywhere")
	}
	dir := t.TempDir()
	s, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	writeGame(t, s, "1")
	_ = s.Close()
	if err := os.Chmod(dir, 0o500); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = os.Chmod(dir, 0o700) })
	readsOne(t, dir, 1)
	_, err = Open(dir)
	wantFault(t, err, Forbidden)
}

// What is no store, and one of a later program, say so.
func TestWhatIsNoStore(t *testing.T) {
	dir := t.TempDir()
	if _, _, err := OpenToRead(dir); err == nil {
		t.Error("an empty folder was opened")
	} else {
		wantFault(t, err, Missing)
	}
	if err := os.WriteFile(filepath.Join(dir, fileName), []byte(strings.Repeat("no database ", 1000)), 0o600); err != nil {
		t.Fatal(err)
	}
	_, err := Open(dir)
	wantFault(t, err, Malformed)
	_, _, err = OpenToRead(dir)
	wantFault(t, err, Malformed)
	other := t.TempDir()
	s := open(t, other)
	mustExec(t, s.db, "PRAGMA user_version = 9")
	_ = s.Close()
	_, err = Open(other)
	wantFault(t, err, Newer)
	_, _, err = OpenToRead(other)
	wantFault(t, err, Newer)
}
