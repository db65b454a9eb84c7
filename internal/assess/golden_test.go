// SPDX-License-Identifier: Apache-2.0

package assess

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"

	"boardhand/internal/axes"
	"boardhand/internal/golden"
	"boardhand/internal/rig"
)

// goldenRigs are the machines whose judgement is kept as text, as changes of
// the fixed rig; the first is the default rig as `new` writes it.
var goldenRigs = []struct {
	name string
	set  []Setting
}{
	{"default", nil},
	{"fixed", []Setting{}},
	{"trays", []Setting{
		{Key: "pieces.carried", Value: `"both"`}, {Key: "removal.mode", Value: `"tray"`}, {Key: "removal.slots", Value: "16"}, {Key: "removal.gap", Value: `"40 mm"`},
		{Key: "axis.x.travel", Value: `"440 mm"`}, {Key: "walls.left", Value: `"260 mm"`}, {Key: "walls.right", Value: `"260 mm"`}, {Key: "walls.material", Value: `"brick"`}, {Key: "controller.kind", Value: `"tacho"`},
	}},
	{"belts", []Setting{
		{Key: "axis.x.drive", Value: `"belt"`}, {Key: "axis.x.pitch", Value: `"2 mm"`}, {Key: "axis.x.teeth", Value: "20"}, {Key: "axis.y.drive", Value: `"screw"`}, {Key: "axis.y.lead", Value: `"8 mm"`},
		{Key: "axis.x.motor.kind", Value: `"stepper"`}, {Key: "axis.x.motor.counts", Value: "3200"}, {Key: "axis.x.motor.full_steps", Value: "200"}, {Key: "axis.x.motor.inductance", Value: `"4 mH"`},
		{Key: "camera.height", Value: `"520 mm"`}, {Key: "removal.mode", Value: `"chute"`}, {Key: "removal.chute", Value: `["200 mm", "0 mm"]`},
	}},
	{"weak", []Setting{
		{Key: "board.thickness", Value: `"6 mm"`}, {Key: "board.warp", Value: `"1.2 mm"`}, {Key: "lift.drop", Value: `"6 mm"`}, {Key: "lift.preload", Value: `"0.05 N"`}, {Key: "pieces.king.base", Value: `"29 mm"`},
		{Key: "axis.x.motor.stall_torque", Value: `"0.05 N·m"`}, {Key: "axis.y.backlash", Value: `"1.8 mm"`}, {Key: "camera.height", Value: `"400 mm"`}, {Key: "power.current", Value: `"1 A"`},
	}},
}

// Every value of every line, with its unit and verdict, as text.
func TestGoldenChecks(t *testing.T) {
	for _, g := range goldenRigs {
		t.Run(g.name, func(t *testing.T) {
			r := rig.Default()
			if g.set != nil {
				r = patched(t, g.set...)
			}
			var b strings.Builder
			writeChecks(&b, Run(r, nil))
			writeParts(&b, r)
			golden.Compare(t, "checks-"+g.name+".txt", b.String())
		})
	}
}

// writeChecks writes the lines in the order of their names, then that order
// which the report has: the worst first.
func writeChecks(b *strings.Builder, checks []Check) {
	var order []string
	for _, c := range checks {
		order = append(order, c.ID)
	}
	slices.SortFunc(checks, func(a, b Check) int { return strings.Compare(a.ID, b.ID) })
	count := map[Verdict]int{}
	for _, c := range checks {
		count[c.Verdict]++
		fmt.Fprintf(b, "%s %s %s %s, limit %s, margin %s (%s of it)", c.Verdict, c.ID, digits(c.Value), c.Unit, digits(c.Limit), digits(c.Margin), digits(c.Share))
		if c.Reserve != nil {
			fmt.Fprintf(b, ", with reserve %s", digits(*c.Reserve))
		}
		fmt.Fprintf(b, "\n  numbers told: %s\n", numbersIn(c.Why, c.Explain))
		for _, f := range c.Fixes {
			fmt.Fprintf(b, "  change %v: %s; costs %s; then fails: %v\n", f.Set, numbersIn(f.Effect), costsIn(f), f.Breaks)
		}
	}
	fmt.Fprintf(b, "summary\n  %d pass, %d warn, %d fail; worst first: %s\n", count[Pass], count[Warn], count[Fail], strings.Join(order, " "))
}

// costsIn are what a change takes from other lines.
func costsIn(f Fix) []string {
	out := []string{}
	for _, c := range f.Costs {
		out = append(out, fmt.Sprintf("%s %s, margin %s, warns %v", c.ID, digits(c.Value), digits(c.Margin), c.Warns))
	}
	return out
}

// writeParts writes down what is counted and measured besides.
func writeParts(b *strings.Builder, r *rig.Rig) {
	fmt.Fprintf(b, "parts\n  %+v\n", BillOf(r))
	for _, n := range axes.CableNeeds(r) {
		fmt.Fprintf(b, "  lead %s follows %v: needs %s mm, owned %s mm, longest %s mm\n", n.Name, n.Moves, digits(mm(n.Need)), digits(mm(n.Owned)), digits(mm(n.Best)))
	}
	for _, s := range Begin(r, nil).Sides() {
		fmt.Fprintf(b, "  side %s reaches %s mm, needs %s mm, ends by %s, for captures %v\n", s.Name, digits(mm(s.Reach)), digits(mm(s.Need)), s.By, s.Remove)
	}
	fmt.Fprintf(b, "  sockets %d\n", axes.PortsNeeded(r))
}

// digits prints four significant digits, and always decimals: what is printed
// so may round otherwise on another processor.
func digits(v float64) string {
	places := 3
	if v != 0 {
		places = max(1, 3-int(math.Floor(math.Log10(math.Abs(v)))))
	}
	return fmt.Sprintf("%.*f", min(places, 6), v+0) // not −0
}

// numbersIn are the numbers in words that are told; the words may change.
func numbersIn(words ...string) string {
	return strings.Join(toldNumber.FindAllString(strings.Join(words, " "), -1), " ")
}

var toldNumber = regexp.MustCompile(`[-−]?\d+(\.\d+)?`)
