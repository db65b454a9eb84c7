// SPDX-License-Identifier: Apache-2.0

// Package devname finds the lasting names of devices that are plugged in: the system
// gives numbers such as /dev/ttyUSB0 anew each time, and keeps names beside them that say
// what a device is.
package devname

import (
	"os"
	"path/filepath"
)

// Lasting is the name in a folder of lasting names that leads to the same device as a
// path; "" when it has none or is one.
func Lasting(folder, path string) string {
	entries, err := os.ReadDir(folder)
	if err != nil || filepath.Dir(path) == folder {
		return ""
	}
	is, err := filepath.EvalSymlinks(path)
	if err != nil {
		return ""
	}
	for _, e := range entries {
		name := filepath.Join(folder, e.Name())
		if to, err := filepath.EvalSymlinks(name); err == nil && to == is {
			return name
		}
	}
	return ""
}
