// SPDX-License-Identifier: Apache-2.0

package store

import (
	"errors"
	"io/fs"
	"math"
	"os"
	"path/filepath"

	"golang.org/x/sys/windows"
)

// disk asks the disk under a file what could hinder a write.
func disk(file string) (readOnly, forbidden, full bool) {
	free, err := freeBytes(filepath.Dir(file))
	if info, err := os.Stat(file); err == nil {
		forbidden = info.Mode().Perm()&0o200 == 0
	}
	return false, forbidden, err == nil && free == 0
}

// freeBytes is how many bytes are free on a folder's disk.
func freeBytes(dir string) (int64, error) {
	name, err := windows.UTF16PtrFromString(dir)
	if err != nil {
		return 0, err
	}
	var free uint64
	if err := windows.GetDiskFreeSpaceEx(name, &free, nil, nil); err != nil {
		return 0, err
	}
	return int64(min(free, math.MaxInt64)), nil
}

// inodeIn says nothing here: a file that is open can be neither removed nor replaced.
func inodeIn(fs.FileInfo) (inode, bool) { return inode{}, false }

// lock makes this process the only one that holds a file, until it is closed; false when
// another does.
func lock(f *os.File) (bool, error) {
	err := windows.LockFileEx(windows.Handle(f.Fd()), windows.LOCKFILE_EXCLUSIVE_LOCK|windows.LOCKFILE_FAIL_IMMEDIATELY, 0, 1, 0, new(windows.Overlapped))
	if errors.Is(err, windows.ERROR_LOCK_VIOLATION) {
		return false, nil
	}
	return err == nil, err
}
