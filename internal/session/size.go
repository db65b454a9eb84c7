// SPDX-License-Identifier: Apache-2.0

package session

import (
	"fmt"
	"strings"

	"github.com/dustin/go-humanize"
)

// ParseSize reads "2 GB", in bytes.
func ParseSize(text string) (int64, error) {
	n, err := humanize.ParseBytes(text)
	hasUnit := strings.HasSuffix(strings.ToLower(text), "b")
	if err != nil || n > 1<<60 || n != 0 && !hasUnit {
		return 0, fmt.Errorf(`--keep-pictures takes a size with its unit, like "500 MB" or "2 GB"; got %q`, text)
	}
	return int64(n), nil
}
