// SPDX-License-Identifier: Apache-2.0

package store

import (
	"encoding/binary"
	"fmt"
	"hash/crc32"
)

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

// checksum is the CRC-32C of one row: its numbers, then each text with its
// length, so that no letter can move from one column to the next. One wrong bit
// is always noticed; other damage goes unnoticed once in 2^32.
func checksum(game, n int64, columns []string) uint32 {
	b := binary.LittleEndian.AppendUint64(nil, uint64(game))
	b = binary.LittleEndian.AppendUint64(b, uint64(n))
	for _, c := range columns {
		b = binary.LittleEndian.AppendUint32(b, uint32(len(c)))
		b = append(b, c...)
	}
	return crc32.Checksum(b, castagnoli)
}

// scanner is a row.
type scanner interface{ Scan(...any) error }

// scanRow reads n columns of whatever kind: damage may have changed it.
func scanRow(row scanner, n int) ([]any, error) {
	out, to := make([]any, n), make([]any, n)
	for i := range out {
		to[i] = &out[i]
	}
	return out, row.Scan(to...)
}

// texts are columns as text. What is no text in the file has another checksum.
func texts(row []any) []string {
	out := make([]string, len(row))
	for i, v := range row {
		switch v := v.(type) {
		case string:
			out[i] = v
		case []byte:
			out[i] = string(v)
		default:
			out[i] = fmt.Sprint(v)
		}
	}
	return out
}
