// SPDX-License-Identifier: Apache-2.0

package golden

import (
	"math"
	"regexp"
	"strconv"
	"strings"
)

// decimal is a number printed with decimals; a whole number is held exactly.
var decimal = regexp.MustCompile(`[-+−]?\d+\.\d+`)

// agrees says whether two lines say the same.
func agrees(kept, now string) bool {
	if kept == now {
		return true
	}
	a, b := strings.Fields(kept), strings.Fields(now)
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if !sameWord(a[i], b[i]) {
			return false
		}
	}
	return true
}

// sameWord says whether two words agree: letter by letter outside numbers with
// decimals, those within one unit of the last place.
func sameWord(kept, now string) bool {
	if kept == now {
		return true
	}
	a, b := decimal.FindAllString(kept, -1), decimal.FindAllString(now, -1)
	if len(a) == 0 || len(a) != len(b) || decimal.ReplaceAllString(kept, "#") != decimal.ReplaceAllString(now, "#") {
		return false
	}
	for i := range a {
		if !sameNumber(a[i], b[i]) {
			return false
		}
	}
	return true
}

func sameNumber(a, b string) bool {
	places := decimals(a)
	if places != decimals(b) {
		return false
	}
	x, errX := strconv.ParseFloat(strings.Replace(a, "−", "-", 1), 64)
	y, errY := strconv.ParseFloat(strings.Replace(b, "−", "-", 1), 64)
	return errX == nil && errY == nil && math.Abs(x-y) < 1.5*math.Pow(10, -float64(places))
}

// decimals is how many digits stand behind the point.
func decimals(number string) int {
	_, after, _ := strings.Cut(number, ".")
	return len(after)
}
