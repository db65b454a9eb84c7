// SPDX-License-Identifier: Apache-2.0

package app

import (
	"path/filepath"
	"strings"
	"testing"
)

// What has no answer is not counted as solved.
func TestSuite(t *testing.T) {
	const start = "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq -"
	const mate = "6k1/5ppp/8/8/8/8/8/R6K w - -" // Ra8 mates
	path := write(t, filepath.Join(t.TempDir(), "suite.epd"), "# a suite\n"+
		start+` 0 1 bm a3; id "six fields";`+"\n"+
		start+` id "no answer";`+"\n"+
		start+` dm 2; id "a mate";`+"\n"+
		mate+` bm Ra8+, Ra8#; c0 "say; bm Kg1"; id "back rank";`+"\n"+
		mate+` 0 1 am Ra7; id "avoid";`+"\n")
	code, out, errs := cli(t, "think", "--epd", path, "--depth", "2")
	if code != fine {
		t.Fatal(errs)
	}
	for _, want := range []string{"six fields ", " missed\n", "no answer  ", "not judged\n", "back rank  Ra8#    found\n", "avoid      Ra8#    found\n",
		"2 of 3 solved; 2 positions without bm or am not judged\n"} {
		if !strings.Contains(out, want) {
			t.Errorf("%q is missing in\n%s", want, out)
		}
	}
	code, out, errs = cli(t, "think", "--epd", path, "--depth", "2", "--json")
	if code != fine || !strings.HasSuffix(out, `{"solved":2,"total":3,"not_judged":2}`+"\n") || strings.Count(out, `"ok":`) != 3 {
		t.Errorf("exit code %d: %s%s", code, out, errs)
	}
	long := write(t, filepath.Join(t.TempDir(), "long.epd"), strings.Repeat("x", longestLine+1))
	for bad, want := range map[string]string{long: "a line is longer than", t.TempDir(): "cannot read the suite"} {
		if code, _, errs := cli(t, "think", "--epd", bad); code != badInput || !strings.Contains(errs, want) {
			t.Errorf("%s: exit code %d, said %s", bad, code, errs)
		}
	}
}
