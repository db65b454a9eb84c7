// SPDX-License-Identifier: Apache-2.0

// Package video takes pictures from a camera on Linux's video interface, version 2:
// the size and the rate are chosen, what the camera regulates by itself is held
// still, and pictures come as motion JPEG or as YUYV. All that passes between the
// program and the driver goes through Kernel, so that it can be recorded and
// played back.
//
// Source of all numbers and layouts: the Linux media documentation, "Video for
// Linux API" (kernel.org, Documentation/userspace-api/media/v4l), and the header
// linux/videodev2.h that goes with it.
package video
