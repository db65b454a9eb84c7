// SPDX-License-Identifier: Apache-2.0

//go:build linux

package video

import (
	"strings"
	"testing"

	"boardhand/internal/rights"
)

// A user who may not use the camera is told which group to join, by the real opening of a
// character device: it is not asked whether it is a camera.
func TestCameraWithoutRights(t *testing.T) {
	name := rights.Refused(t)
	var err error
	rights.Without(func() { _, err = openKernel(name) })
	if err == nil || !strings.Contains(err.Error(), name+" may not be opened by this user: `sudo usermod -aG video $USER`") {
		t.Errorf("it says %v", err)
	}
}
