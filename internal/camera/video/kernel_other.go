// SPDX-License-Identifier: Apache-2.0

//go:build !linux

package video

import (
	"fmt"
	"runtime"
)

func openKernel(path string) (Kernel, error) {
	return nil, fmt.Errorf("%s: there is no driver for cameras on %s in this program: use one that serves motion JPEG (http://…), or a computer with Linux", path, runtime.GOOS)
}
