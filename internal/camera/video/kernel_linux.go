// SPDX-License-Identifier: Apache-2.0

package video

import (
	"errors"
	"fmt"
	"os"
	"time"
	"unsafe"

	"golang.org/x/sys/unix"
)

// file is a device of this machine.
type file struct {
	fd     int
	mapped [][]byte
}

// openKernel opens a device; what stands in the way is said with what to do.
func openKernel(path string) (Kernel, error) {
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, os.ErrNotExist):
		return nil, fmt.Errorf("%s: there is no such device: plug the camera in, and look with `ls -l /dev/v4l/by-id` what it is called", path)
	case err == nil && info.Mode()&os.ModeCharDevice == 0:
		return nil, fmt.Errorf("%s is no camera; cameras are called /dev/video0 or /dev/v4l/by-id/…", path)
	}
	fd, err := unix.Open(path, unix.O_RDWR|unix.O_NONBLOCK|unix.O_CLOEXEC, 0)
	switch {
	case errors.Is(err, unix.EACCES), errors.Is(err, unix.EPERM):
		return nil, fmt.Errorf("%s may not be opened by this user: `sudo usermod -aG video $USER`, then log in again", path)
	case errors.Is(err, unix.EBUSY):
		return nil, fmt.Errorf("%s: %w: close it", path, errBusy)
	case err != nil:
		return nil, fmt.Errorf("%s cannot be opened: %w", path, err)
	}
	return &file{fd: fd}, nil
}

func (f *file) Ioctl(request uint32, arg []byte) error {
	for {
		_, _, errno := unix.Syscall(unix.SYS_IOCTL, uintptr(f.fd), uintptr(request), uintptr(unsafe.Pointer(&arg[0])))
		if errno == unix.EINTR {
			continue
		}
		return named(errno)
	}
}

// named is a kernel's error as this package knows it.
func named(errno unix.Errno) error {
	switch errno {
	case 0:
		return nil
	case unix.EINVAL, unix.ENOTTY, unix.ERANGE, unix.EACCES:
		return fmt.Errorf("%w (%w)", errNotTaken, errno)
	case unix.ENODEV, unix.EIO, unix.ENXIO:
		return fmt.Errorf("%w (%w)", errGone, errno)
	case unix.EBUSY:
		return fmt.Errorf("%w (%w)", errBusy, errno)
	case unix.EAGAIN:
		return errAgain
	}
	return errno
}

func (f *file) Map(offset int64, length int) ([]byte, error) {
	b, err := unix.Mmap(f.fd, offset, length, unix.PROT_READ|unix.PROT_WRITE, unix.MAP_SHARED)
	if err == nil {
		f.mapped = append(f.mapped, b)
	}
	return b, err
}

func (f *file) Wait(most time.Duration) (bool, error) {
	p := []unix.PollFd{{Fd: int32(f.fd), Events: unix.POLLIN}}
	n, err := unix.Poll(p, int(most.Milliseconds()))
	switch {
	case errors.Is(err, unix.EINTR):
		return false, nil
	case err != nil:
		return false, err
	case n > 0 && p[0].Revents&(unix.POLLERR|unix.POLLHUP|unix.POLLNVAL) != 0:
		return false, errGone
	}
	return n > 0, nil
}

// Close gives the buffers back and closes the device.
func (f *file) Close() error {
	for _, b := range f.mapped {
		_ = unix.Munmap(b) // the device is being closed: nothing is left to do about it
	}
	f.mapped = nil
	return unix.Close(f.fd)
}
