// SPDX-License-Identifier: Apache-2.0

package video

import "math/bits"

// request is the number of an ioctl: direction, size of what is passed, letter and
// ordinal, packed as linux/ioctl.h has it.
type request uint32

const (
	passIn  = 1 // to the driver
	passOut = 2 // from the driver
)

// wordBytes is the size of the machine's long and of its pointers: some of the
// structures have such in them.
const wordBytes = bits.UintSize / 8

// Sizes of what is passed, bytes. formatSize and bufferSize depend on the machine:
// both hold a union with a pointer in it, and the second a struct timeval.
const (
	capabilitySize = 104
	fmtdescSize    = 64
	formatSize     = wordBytes + 200
	requestSize    = 20
	bufferSize     = 52 + 4*wordBytes + 4*(wordBytes/8)
	parmSize       = 204
	controlSize    = 8
	querySize      = 68
	framesizeSize  = 44
	intervalSize   = 52
	intSize        = 4
)

// The requests that are used.
var (
	queryCapability = number(passOut, 0, capabilitySize)
	enumFormat      = number(passIn|passOut, 2, fmtdescSize)
	setFormat       = number(passIn|passOut, 5, formatSize)
	requestBuffers  = number(passIn|passOut, 8, requestSize)
	queryBuffer     = number(passIn|passOut, 9, bufferSize)
	queueBuffer     = number(passIn|passOut, 15, bufferSize)
	dequeueBuffer   = number(passIn|passOut, 17, bufferSize)
	streamOn        = number(passIn, 18, intSize)
	streamOff       = number(passIn, 19, intSize)
	setParm         = number(passIn|passOut, 22, parmSize)
	getControl      = number(passIn|passOut, 27, controlSize)
	setControl      = number(passIn|passOut, 28, controlSize)
	queryControl    = number(passIn|passOut, 36, querySize)
	enumFrameSize   = number(passIn|passOut, 74, framesizeSize)
	enumInterval    = number(passIn|passOut, 75, intervalSize)
)

func number(direction, ordinal, size uint32) request {
	return request(direction<<30 | size<<16 | 'V'<<8 | ordinal)
}
