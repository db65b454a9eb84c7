// SPDX-License-Identifier: Apache-2.0

package modal_test

import (
	"errors"
	"math"
	"testing"

	"boardhand/internal/gantry/firmware/blocks"
	"boardhand/internal/gantry/firmware/modal"
	"boardhand/internal/gantry/firmware/words"
)

// after runs lines on a fresh state.
func after(t *testing.T, lines ...string) (s modal.State, all []modal.Command) {
	t.Helper()
	s.Tolerance = 0.002
	s.Reset()
	for _, text := range lines {
		l, err := words.Parse(words.Strip(text))
		if err != nil {
			t.Fatalf("%s: %v", text, err)
		}
		out, err := s.Interpret(l)
		if err != nil {
			t.Fatalf("%s: %v", text, err)
		}
		all = append(all, out...)
	}
	return s, all
}

// fault is the error of the last line.
func fault(t *testing.T, lines ...string) words.Fault {
	t.Helper()
	s, _ := after(t, lines[:len(lines)-1]...)
	l, err := words.Parse(words.Strip(lines[len(lines)-1]))
	if err == nil {
		before := s
		if _, err = s.Interpret(l); err != nil && s != before {
			t.Errorf("%q: a bad line changed the state", lines)
		}
	}
	var f words.Fault
	errors.As(err, &f)
	return f
}

// The example of NISTIR 6556, 3.5.18: at X = 4, G92 X7 makes the offset −3; G92 X9
// then makes it −5. Without motion, in incremental mode as well, in every system.
func TestOffsetExampleOfTheReport(t *testing.T) {
	s, out := after(t, "G0 X4", "G92 X7")
	if s.Shift[0] != -3 || s.At[0]-s.Offset()[0] != 7 || len(out) != 1 {
		t.Errorf("first: shift %g, %d commands", s.Shift[0], len(out))
	}
	for _, mode := range []string{"G90", "G91", "G55"} {
		s, out = after(t, "G0 X4", "G92 X7", mode, "G92 X9")
		if s.Shift[0] != -5 || s.At[0]-s.Offset()[0] != 9 || s.At[0] != 4 || len(out) != 1 {
			t.Errorf("%s: shift %g at %g, %d commands", mode, s.Shift[0], s.At[0], len(out))
		}
	}
	if s, _ = after(t, "G0 X4", "G92 X7", "G92.1"); s.Shift != (blocks.Vector{}) {
		t.Errorf("G92.1 left %v", s.Shift)
	}
}

func TestPlaces(t *testing.T) {
	for _, c := range []struct {
		lines []string
		want  blocks.Vector
	}{
		{[]string{"G0 X1 Y2", "G91", "X1", "Z-3"}, blocks.Vector{2, 2, -3}},
		{[]string{"G20 G0 X1"}, blocks.Vector{25.4}},
		{[]string{"G10 L2 P1 X10", "G0 X1 Y1"}, blocks.Vector{11, 1}},
		{[]string{"G0 X5", "G10 L20 P1 X0", "X1"}, blocks.Vector{6}},
		{[]string{"G10 L2 P2 X10", "G55 G0 X1", "G54 X1"}, blocks.Vector{1}},
		{[]string{"G92 X5", "G53 G0 X1"}, blocks.Vector{1}},
		{[]string{"G0 X7 Y8", "G28.1", "G0 X1 Y1", "G28 X2"}, blocks.Vector{7, 1}}, // only the named axis
		{[]string{"G0 X7 Y8", "G28.1", "G0 X1 Y1", "G28"}, blocks.Vector{7, 8}},
	} {
		s, out := after(t, c.lines...)
		if s.At.Distance(c.want) > 1e-12 || len(out) == 0 {
			t.Errorf("%q: at %v, want %v", c.lines, s.At, c.want)
		}
	}
}

// F2.0 in inverse time mode is half a minute, whatever the way.
func TestInverseTime(t *testing.T) {
	_, out := after(t, "G93 G1 X60 F2")
	if math.Abs(out[0].Feed.Speed-2) > 1e-12 {
		t.Errorf("60 mm in half a minute: %g mm/s", out[0].Feed.Speed)
	}
}

// Words are carried out in the order of table 8, wherever they stand on the line.
func TestOrderOnALine(t *testing.T) {
	_, out := after(t, "G1 X1 M8 G4 P2 S100 M3 F60 G91 M0")
	var got []modal.Kind
	for _, c := range out {
		got = append(got, c.Kind)
	}
	want := []modal.Kind{modal.Spindle, modal.Coolant, modal.Dwell, modal.Move, modal.Pause}
	if len(got) != len(want) {
		t.Fatalf("%v", got)
	}
	for i := range want {
		if got[i] != want[i] {
			t.Fatalf("%v, want %v", got, want)
		}
	}
	if out[0].Speed != 100 || out[2].Seconds != 2 || out[3].Feed.Speed != 1 {
		t.Errorf("%+v", out)
	}
}

// A quarter and a half circle keep to the radius and end where they should.
func TestArcs(t *testing.T) {
	for _, c := range []struct {
		line   string
		centre blocks.Vector
		length float64
	}{
		{"G2 X10 Y10 I10 F600", blocks.Vector{10}, 5 * math.Pi},
		{"G3 X10 Y10 I10 F600", blocks.Vector{10}, 15 * math.Pi},
		{"G2 X10 Y10 R10 F600", blocks.Vector{10}, 5 * math.Pi},
		{"G3 X10 Y10 R10 F600", blocks.Vector{0, 10}, 5 * math.Pi},
		{"G2 X10 Y10 R-10 F600", blocks.Vector{0, 10}, 15 * math.Pi},
		{"G2 X0 I5 F600", blocks.Vector{5}, 10 * math.Pi},
	} {
		s, out := after(t, c.line)
		last, sum := blocks.Vector{}, 0.0
		for _, m := range out {
			if d := math.Abs(m.To.Distance(c.centre) - c.centre.Distance(blocks.Vector{})); d > 1e-9 {
				t.Fatalf("%s: %.3g mm off the circle", c.line, d)
			}
			sum, last = sum+last.Distance(m.To), m.To
		}
		if math.Abs(sum-c.length) > 0.01 || last != s.At {
			t.Errorf("%s: %.4f mm long, want %.4f", c.line, sum, c.length)
		}
	}
}

func TestFaultsOfState(t *testing.T) {
	for _, c := range []struct {
		lines []string
		want  words.Fault
	}{
		{[]string{"G1 X1"}, words.NoFeed},
		{[]string{"G1 X1 F60", "G93 X2"}, words.NoFeed},
		{[]string{"G80", "X1"}, words.UnusedAxisWords},
		{[]string{"G1 X1 I2 F60"}, words.UnusedValueWords},
		{[]string{"G2 X10 Y10 I3 F60"}, words.BadTarget},
		{[]string{"G2 X100 R10 F60"}, words.BadRadius},
		{[]string{"G2 X10 F60"}, words.NoArcOffsets},
		{[]string{"G2 Z1 I1 F60"}, words.NoArcAxes},
		{[]string{"G3 X2 I1 F60", "G53 X5"}, words.OnlyStraight},
		{[]string{"G10 L2 P9 X1"}, words.Unsupported},
		{[]string{"X1"}, 0},
	} {
		if got := fault(t, c.lines...); got != c.want {
			t.Errorf("%q: error %d, want %d", c.lines, got, c.want)
		}
	}
}

// A jog leaves the modes alone and needs its own feed.
func TestJog(t *testing.T) {
	s, _ := after(t, "G0 X1", "F300")
	before := s
	for text, want := range map[string]words.Fault{"G91X2F600": 0, "X2": words.NoFeed, "G1X2F5": words.BadJog, "X2F5S3": words.BadJog, "F5": words.NoAxisWords} {
		l, err := words.Parse(text)
		var got words.Fault
		if err == nil {
			var c modal.Command
			c, err = s.Jog(l)
			if err == nil && (c.To[0] != 3 || c.Feed.Speed != 10) {
				t.Errorf("%s: %+v", text, c)
			}
		}
		errors.As(err, &got)
		if got != want {
			t.Errorf("%s: error %d, want %d", text, got, want)
		}
	}
	if s != before {
		t.Error("the state changed")
	}
}
