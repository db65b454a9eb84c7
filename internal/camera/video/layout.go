// SPDX-License-Identifier: Apache-2.0

package video

import (
	"bytes"
	"encoding/binary"
)

// Where fields lie in what is passed, bytes (linux/videodev2.h).
const (
	capCard    = 16
	capAll     = 84 // of the hardware
	capOf      = 88 // of this device node, where the top bit of the former is set
	descFourCC = 44

	pixWidth  = wordBytes
	pixHeight = wordBytes + 4
	pixFourCC = wordBytes + 8
	pixField  = wordBytes + 12
	pixStride = wordBytes + 16

	bufUsed   = 8
	bufFlags  = 12
	bufMemory = bufTime + 2*wordBytes + 16 + 4
	bufTime   = 16 + wordBytes
	bufOffset = bufMemory + 4
	bufLength = bufOffset + wordBytes

	parmCapability = 4
	parmPeriod     = 12 // numerator, denominator

	queryFlags = 56

	sizeKind  = 8
	sizeFirst = 12 // width, height; or least width, most width, step, least height, …

	intervalFourCC = 4
	intervalWidth  = 8
	intervalHeight = 12
	intervalKind   = 16
	intervalFirst  = 20 // numerator, denominator
)

// Values of fields.
const (
	typeCapture  = 1
	memoryMapped = 1
	fieldNone    = 1

	canCapture  = 0x00000001
	canStream   = 0x04000000
	hasNodeCaps = 0x80000000

	parmPeriodSet = 0x1000
	bufferBroken  = 0x0040
	discrete      = 1

	controlDisabled = 0x0001
)

// message is what is passed with a request.
type message []byte

func (m message) at(k int) uint32         { return binary.NativeEndian.Uint32(m[k:]) }
func (m message) put(k int, v uint32)     { binary.NativeEndian.PutUint32(m[k:], v) }
func (m message) text(k, most int) string { return string(bytes.TrimRight(m[k:k+most], "\x00")) }

// Format is how the pixels come, four letters in one number.
type Format uint32

// The formats that are understood.
const (
	MJPG Format = 'M' | 'J'<<8 | 'P'<<16 | 'G'<<24 // a JPEG file a picture
	YUYV Format = 'Y' | 'U'<<8 | 'Y'<<16 | 'V'<<24 // two pixels in four bytes: Y0 Cb Y1 Cr
)

// String is the four letters.
func (f Format) String() string {
	return string([]byte{byte(f), byte(f >> 8), byte(f >> 16), byte(f >> 24)})
}
