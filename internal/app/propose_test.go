// SPDX-License-Identifier: Apache-2.0

package app

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"boardhand/internal/propose"
	"boardhand/internal/rig"
)

const fewParts = `currency = "EUR"
[[magnet]]
name = "small disc"
diameter = "5 mm"
thickness = "2 mm"
grade = "N42"
use = "foot"
price = 0.5
[[magnet]]
name = "usual disc"
diameter = "6 mm"
thickness = "2 mm"
grade = "N42"
use = "foot"
owned = 18
[try]
square = ["30 mm", "43 mm"]
`

// From the stock to a rig file that passes: as a maker would go.
func TestPropose(t *testing.T) {
	dir := t.TempDir()
	r := write(t, filepath.Join(dir, "rig.toml"), rig.DefaultText)
	stock := write(t, filepath.Join(dir, "stock.toml"), fewParts)
	made := filepath.Join(dir, "new.toml")
	code, text, errs := cli(t, "propose", r, "--stock", stock, "--write", "1", "-o", made, "--plot", made+".svg", "--csv", made+".csv", "--builds", "20")
	if code != fine || errs != "" {
		t.Fatalf("exit %d: %s%s", code, text, errs)
	}
	for _, want := range []string{"4 rigs judged: 2 pass", "18 × small disc", "buy 18: 9.00 EUR", "Near misses", "Rig 1 comes first since", "It gives up", "What limits it is", "Wrote " + made + ".svg, " + made + ".csv, " + made} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not in:\n%s", want, text)
		}
	}
	data, err := os.ReadFile(made)
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(data), `diameter = "5 mm"`) || !strings.Contains(string(data), "# One machine, described") {
		t.Errorf("the new rig is not the old one with its notes and the new magnet:\n%s", data)
	}
	for name, want := range map[string]string{".svg": "builds that play a whole game", ".csv": "\n1,p2,1,"} {
		if data, err := os.ReadFile(made + name); err != nil || !strings.Contains(string(data), want) {
			t.Errorf("%s: no %q in %s (%v)", name, want, data, err)
		}
		if code, _, errs := cli(t, "propose", r, "--stock", stock, "--plot", made+name); code != badInput || !strings.Contains(errs, "is there already") {
			t.Errorf("written over: exit %d, %s", code, errs)
		}
	}
	if code, text, _ := cli(t, "assess", made); code != fine {
		t.Errorf("the new rig fails:\n%s", text)
	}
	if code, _, errs := cli(t, "propose", r, "--stock", stock, "--write", "1", "-o", made); code != badInput || !strings.Contains(errs, "is there already") {
		t.Errorf("written over: exit %d, %s", code, errs)
	}
}

// A rig that is not in the list cannot be written; what was found is printed all the same.
func TestProposeKeepsWhatWasFound(t *testing.T) {
	dir := t.TempDir()
	r := write(t, filepath.Join(dir, "rig.toml"), rig.DefaultText)
	stock := write(t, filepath.Join(dir, "stock.toml"), fewParts)
	code, text, errs := cli(t, "propose", r, "--stock", stock, "--builds", "0", "--write", "99", "-o", filepath.Join(dir, "new.toml"))
	if code != badInput || !strings.Contains(errs, "there is no rig 99") || !strings.Contains(text, "18 × small disc") {
		t.Errorf("exit %d: %s%s", code, text, errs)
	}
}

// Two shards merged give the whole.
func TestProposeShards(t *testing.T) {
	dir := t.TempDir()
	r := write(t, filepath.Join(dir, "rig.toml"), rig.DefaultText)
	stock := write(t, filepath.Join(dir, "stock.toml"), fewParts)
	_, whole, _ := cli(t, "propose", r, "--stock", stock, "--json", "--builds", "20")
	var files []string
	for _, k := range []string{"2/2", "1/2"} {
		_, text, errs := cli(t, "propose", r, "--stock", stock, "--json", "--shard", k)
		if errs != "" {
			t.Fatal(errs)
		}
		files = append(files, write(t, filepath.Join(dir, k[:1]+".json"), text))
	}
	code, merged, errs := cli(t, append([]string{"propose", "--json", "--builds", "20", "--merge"}, files...)...)
	if code != fine {
		t.Fatalf("exit %d: %s", code, errs)
	}
	if a, b := untimed(t, merged), untimed(t, whole); a != b {
		t.Errorf("merged\n%s\nwhole\n%s", a, b)
	}
	if code, _, errs := cli(t, append([]string{"propose", "--merge", files[0]}, files...)...); code != badInput || !strings.Contains(errs, "give each shard once") {
		t.Errorf("a shard twice: exit %d, %s", code, errs)
	}
}

func untimed(t *testing.T, text string) string {
	t.Helper()
	var m map[string]any
	if err := json.Unmarshal([]byte(text), &m); err != nil {
		t.Fatal(err)
	}
	delete(m, "seconds")
	out, err := json.Marshal(m)
	if err != nil {
		t.Fatal(err)
	}
	return string(out)
}

// Nothing passes: the answer is no. Bad input: one line and exit code 2.
func TestProposeSaysNo(t *testing.T) {
	dir := t.TempDir()
	r := write(t, filepath.Join(dir, "rig.toml"), rig.DefaultText)
	stock := write(t, filepath.Join(dir, "stock.toml"), "[try]\nsquare = [\"28 mm\"]\n")
	code, text, _ := cli(t, "propose", r, "--stock", stock)
	if code != no || !strings.Contains(text, "none passes every check") {
		t.Errorf("exit %d: %s", code, text)
	}
	bad := write(t, filepath.Join(dir, "bad.toml"), "[try]\nsquare = [\"28\"]\n")
	notes := write(t, filepath.Join(dir, "notes.json"), "{}")
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"propose", r}, "give the parts with --stock"},
		{[]string{"propose", "--stock", stock}, "propose needs one rig file: boardhand propose rig.toml"},
		{[]string{"propose", r, "--stock", "nowhere.toml"}, "nowhere.toml: no such file; `boardhand propose --example nowhere.toml` writes one"},
		{[]string{"propose", r, "--stock", bad}, "bad.toml:2: try.square: "},
		{[]string{"propose", r, "--stock", stock, "--shard", "3/2"}, "--shard must be K/N"},
		{[]string{"propose", r, "--stock", stock, "--shard", "1/2x"}, "--shard must be K/N"},
		{[]string{"propose", r, "--stock", stock, "--top", "0"}, "--top must be at least 1"},
		{[]string{"propose", r, "--stock", stock, "--shard", "1/2", "--csv", "x.csv"}, "a shard draws no builds"},
		{[]string{"propose", r, "--stock", stock, "--builds", "-1"}, "--builds 0 to 100000"},
		{[]string{"propose", "--merge"}, "--merge needs the JSON files"},
		{[]string{"propose", "--merge", notes}, "is not what `boardhand propose --json` prints"},
		{[]string{"propose", "--example", bad}, "is there already"},
	} {
		code, text, errs := cli(t, c.args...)
		if code != badInput || text != "" || !strings.Contains(errs, c.want) || strings.Count(errs, "\n") != 1 {
			t.Errorf("%v: exit %d, %q, %q; want %q", c.args, code, text, errs, c.want)
		}
	}
}

// The example is read as it is written.
func TestProposeExample(t *testing.T) {
	path := filepath.Join(t.TempDir(), "stock.toml")
	code, text, errs := cli(t, "propose", "--example", path)
	if code != fine || !strings.Contains(text, "--stock "+path) {
		t.Fatalf("exit %d: %s%s", code, text, errs)
	}
	if _, err := propose.LoadStock(path); err != nil {
		t.Error(err)
	}
}

// Shards of a search are put together when all of them are there; the one that is not is named.
func TestProposeMergeNamesTheShardThatFailed(t *testing.T) {
	dir := t.TempDir()
	r := write(t, filepath.Join(dir, "rig.toml"), rig.DefaultText)
	stock := write(t, filepath.Join(dir, "stock.toml"), fewParts)
	files := make([]string, 3)
	for k := range files {
		code, out, errs := cli(t, "propose", r, "--stock", stock, "--json", "--shard", string(rune('1'+k))+"/3")
		if code > no {
			t.Fatal(errs)
		}
		files[k] = write(t, filepath.Join(dir, string(rune('1'+k))+".json"), out)
	}
	if code, out, errs := cli(t, append([]string{"propose", "--builds", "0", "--merge"}, files...)...); code != fine || !strings.Contains(out, "4 rigs judged: 2 pass") {
		t.Errorf("exit %d: %s%s", code, out, errs)
	}
	if code, out, errs := cli(t, "propose", "--merge", files[0], files[2]); code != badInput || out != "" || !strings.Contains(errs, "shard 2/3 is missing") {
		t.Errorf("exit %d: %s%s", code, out, errs)
	}
}
