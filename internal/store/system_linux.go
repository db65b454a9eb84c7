// SPDX-License-Identifier: Apache-2.0

package store

import "golang.org/x/sys/unix"

func isReadOnly(st *unix.Statfs_t) bool { return st.Flags&unix.ST_RDONLY != 0 }
