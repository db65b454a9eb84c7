// SPDX-License-Identifier: Apache-2.0

package gcode

import (
	"math"
	"strconv"
	"strings"
)

// parseNumber reads a number as NISTIR 6556, 3.3.2.1, has it: an optional
// sign, digits, at most one point, at least one digit, no exponent.
func parseNumber(s string) (float64, bool) {
	digits := strings.TrimLeft(s, "+-")
	if len(s)-len(digits) > 1 || strings.Trim(digits, "0123456789.") != "" {
		return 0, false
	}
	v, err := strconv.ParseFloat(s, 64)
	return v, err == nil && math.Abs(v) < 1e9
}

// millimetres writes a length in metres as the wire has it: to the micrometre.
func millimetres(m float64) string {
	return strconv.FormatFloat(math.Round(m*1e6)/1e3+0, 'f', -1, 64)
}
