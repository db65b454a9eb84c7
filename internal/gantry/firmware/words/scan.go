// SPDX-License-Identifier: Apache-2.0

package words

import (
	"strconv"
	"strings"
)

// word is a letter and its number.
type word struct {
	letter byte
	value  float64
}

// Strip takes comments and blanks out of a line and makes its letters capital:
// what ( ) holds is skipped, and all after a semicolon.
func Strip(line string) string {
	var out strings.Builder
	inside := false
	for _, c := range []byte(line) {
		switch {
		case inside:
			inside = c != ')'
		case c == '(':
			inside = true
		case c == ';':
			return strings.ToUpper(out.String())
		case c > ' ':
			out.WriteByte(c)
		}
	}
	return strings.ToUpper(out.String())
}

// scan cuts a stripped line into words.
func scan(line string) ([]word, error) {
	var out []word
	for len(line) > 0 {
		if line[0] < 'A' || line[0] > 'Z' {
			return nil, LetterExpected
		}
		n := numberLength(line[1:])
		v, err := strconv.ParseFloat(line[1:1+n], 64)
		if err != nil {
			return nil, BadNumber
		}
		out = append(out, word{line[0], v})
		line = line[1+n:]
	}
	return out, nil
}

// numberLength is how many bytes at the start of s are a number: a sign, digits
// with at most one point, no exponent (RS-274/NGC 3.3.2.1).
func numberLength(s string) int {
	points := 0
	for i, c := range []byte(s) {
		switch {
		case c >= '0' && c <= '9':
		case (c == '+' || c == '-') && i == 0:
		case c == '.' && points == 0:
			points++
		default:
			return i
		}
	}
	return len(s)
}
