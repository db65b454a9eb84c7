// SPDX-License-Identifier: Apache-2.0

//go:build unix

package store

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"

	"golang.org/x/sys/unix"
)

// disk asks the disk under a file what could hinder a write.
func disk(file string) (readOnly, forbidden, full bool) {
	dir := filepath.Dir(file)
	var st unix.Statfs_t
	if unix.Statfs(dir, &st) == nil {
		readOnly = isReadOnly(&st)
		full = st.Bavail == 0
	}
	for _, path := range []string{dir, file} {
		if err := unix.Access(path, unix.W_OK); errors.Is(err, unix.EACCES) || errors.Is(err, unix.EPERM) {
			forbidden = true
		} else if errors.Is(err, unix.EROFS) {
			readOnly = true
		}
	}
	return readOnly, forbidden, full
}

// freeBytes is how many bytes are free on a folder's disk.
func freeBytes(dir string) (int64, error) {
	var st unix.Statfs_t
	if err := unix.Statfs(dir, &st); err != nil {
		return 0, err
	}
	return int64(st.Bavail) * int64(st.Bsize), nil
}

// inodeIn is which file was asked about; false where the system does not say.
func inodeIn(info fs.FileInfo) (inode, bool) {
	st, ok := info.Sys().(*syscall.Stat_t)
	if !ok {
		return inode{}, false
	}
	return inode{uint64(st.Dev), st.Ino}, true
}

// lock makes this process the only one that holds a file, until it is closed; false when
// another does.
func lock(f *os.File) (bool, error) {
	err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
	if errors.Is(err, syscall.EWOULDBLOCK) {
		return false, nil
	}
	return err == nil, err
}
