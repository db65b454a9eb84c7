// SPDX-License-Identifier: Apache-2.0

package uci

import (
	"bufio"
	"bytes"
	"io"
)

// eachLine gives every line to do, without its end, until the reader ends. A
// line of more than longest bytes is passed over, and reading goes on.
func eachLine(r io.Reader, longest int, do func(string)) {
	br := bufio.NewReaderSize(r, 1<<14)
	var line []byte
	long := false
	for {
		part, err := br.ReadSlice('\n')
		if long = long || len(line)+len(part) > longest+1; long {
			line = line[:0]
		} else {
			line = append(line, part...)
		}
		if err == bufio.ErrBufferFull {
			continue
		}
		if !long && (err == nil || len(line) > 0) {
			do(string(bytes.TrimRight(line, "\r\n")))
		}
		if err != nil {
			return
		}
		line, long = line[:0], false
	}
}
