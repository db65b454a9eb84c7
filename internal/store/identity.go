// SPDX-License-Identifier: Apache-2.0

package store

import (
	"os"
)

// inode names a file whatever its path is.
type inode struct{ device, number uint64 }

// identity is which files the store consists of and how long the first one is.
type identity struct {
	file, wal inode
	size      int64
}

// follow takes up what a write has changed of the same files. Files that are
// others now are left for guard to find.
func (id *identity) follow(is identity) {
	if is.file != id.file {
		return
	}
	id.size = max(id.size, is.size)
	if id.wal == (inode{}) {
		id.wal = is.wal
	}
}

// look takes the identity of a store by its paths. It opens nothing: closing a
// file would free SQLite's locks on it.
func look(file string) (id identity) {
	id.file, id.size = inodeOf(file)
	id.wal, _ = inodeOf(file + "-wal")
	return id
}

func inodeOf(path string) (inode, int64) {
	info, err := os.Stat(path)
	if err != nil {
		return inode{}, 0
	}
	is, _ := inodeIn(info)
	return is, info.Size()
}
