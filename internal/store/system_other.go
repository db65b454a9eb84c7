// SPDX-License-Identifier: Apache-2.0

//go:build unix && !linux

package store

import "golang.org/x/sys/unix"

func isReadOnly(st *unix.Statfs_t) bool { return st.Flags&unix.MNT_RDONLY != 0 }
