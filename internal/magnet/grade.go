// SPDX-License-Identifier: Apache-2.0

package magnet

import (
	"fmt"
	"strings"

	"boardhand/internal/unit"
)

// trade lists the remanence that makers' tables give a grade of sintered
// NdFeB, tesla: the least and the most over three makers' tables, which agree
// to 0.02 T. Accuracy: a real flat magnet works somewhat below its remanence.
var trade = []struct {
	name   string
	lo, hi float64
}{
	{"N35", 1.17, 1.22}, {"N38", 1.22, 1.25}, {"N40", 1.25, 1.28}, {"N42", 1.28, 1.32},
	{"N45", 1.32, 1.38}, {"N48", 1.37, 1.42}, {"N50", 1.39, 1.45}, {"N52", 1.42, 1.48},
}

// heats are the letters of a grade that bears more heat: N42SH. They say at which
// temperature it keeps its magnetisation, not how strong it is: makers list the same
// remanence with and without them to 0.01 T (from memory of two makers' tables).
var heats = []string{"SH", "UH", "EH", "AH", "M", "H"}

// Grade reads a magnet grade ("N42", "N42SH") or a remanence ("1.29 T", "1.28-1.32 T")
// and returns the least and the most remanence to expect. Use the low end for
// holding and the high end for neighbours.
func Grade(text string) (lo, hi unit.FluxDensity, err error) {
	s := strings.TrimSpace(text)
	for _, hot := range heats {
		if base, ok := strings.CutSuffix(strings.ToUpper(s), hot); ok && strings.HasPrefix(base, "N") && strings.TrimRight(base, " 0123456789") == "N" {
			s = strings.TrimSpace(base)
			break
		}
	}
	for _, g := range trade {
		if strings.EqualFold(g.name, s) {
			return unit.FluxDensity(g.lo), unit.FluxDensity(g.hi), nil
		}
	}
	low, high, ranged := strings.Cut(strings.Replace(s, "–", "-", 1), "-")
	if !ranged {
		high = low
	}
	if err = hi.UnmarshalText([]byte(high)); err == nil {
		name := strings.TrimLeft(high, " 0123456789.") // "1.28-1.32 T": one unit for both
		if err = lo.UnmarshalText([]byte(low)); err != nil {
			err = lo.UnmarshalText([]byte(low + name))
		}
	}
	if err != nil || !(lo > 0 && lo <= hi && hi <= mostBr) {
		return 0, 0, fmt.Errorf("magnet grade %q is not known; write %s, or a remanence like \"1.29 T\" up to %g T",
			text, gradeNames(), mostBr)
	}
	return lo, hi, nil
}

// Grades lists the known grade names, weakest first.
func Grades() []string {
	names := make([]string, len(trade))
	for i, g := range trade {
		names[i] = g.name
	}
	return names
}

func gradeNames() string { return strings.Join(Grades(), ", ") }
