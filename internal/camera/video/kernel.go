// SPDX-License-Identifier: Apache-2.0

package video

import (
	"errors"
	"time"
)

// Kernel is a video device as its driver answers.
type Kernel interface {
	// Ioctl passes arg to the driver, which may change it.
	Ioctl(request uint32, arg []byte) error
	// Map makes one of the driver's picture buffers readable; it stays so until Close.
	Map(offset int64, length int) ([]byte, error)
	// Wait returns once a picture is ready; false when none came in that time.
	Wait(most time.Duration) (bool, error)
	Close() error
}

// What a driver refuses, the same on every system.
var (
	errNotTaken = errors.New("the driver does not take that") // EINVAL, ENOTTY
	errGone     = errors.New("the device is gone")            // ENODEV, EIO
	errBusy     = errors.New("another program uses it")       // EBUSY
	errAgain    = errors.New("nothing is ready")              // EAGAIN
)
