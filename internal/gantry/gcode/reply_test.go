// SPDX-License-Identifier: Apache-2.0

package gcode

import (
	"slices"
	"strings"
	"testing"
)

// Lines of the firmware's published interface description, and what is none.
func TestParseReply(t *testing.T) {
	for line, want := range map[string]reply{
		"ok":                         {kind: isOK, text: "ok"},
		"error:20":                   {kind: isError, number: 20, text: "error:20"},
		"ALARM:9":                    {kind: isAlarm, number: 9, text: "ALARM:9"},
		"Grbl 1.1h ['$' for help]":   {kind: isBanner, text: "Grbl 1.1h ['$' for help]"},
		"$100=250.000":               {kind: isSetting, number: 100, text: "250.000"},
		"[MSG:Caution: Unlocked]":    {kind: isNote, text: "MSG:Caution: Unlocked"},
		"[OPT:VL,16,128]":            {kind: isNote, text: "OPT:VL,16,128"},
		">G54G20:ok":                 {kind: isStored, text: ">G54G20:ok"},
		"okok":                       {},
		"o":                          {},
		"OK":                         {},
		"error:":                     {},
		"error:+2":                   {},
		"error:99999999":             {},
		"ALARM:1x":                   {},
		"$=3":                        {},
		"$100=":                      {},
		"[MSG:":                      {},
		"<Idle|MPos:0.000,0.000>":    {},
		"<Idle>":                     {},
		"<Sleeping|MPos:1,2,3>":      {},
		"<Idle|FS:0,0|MPos:1,2,3>":   {},
		"<Idle|MPos:1e3,2,3>":        {},
		"<Run|MPos:1.0,2.0,3.0|FS>":  {},
		"<Run|MPos:1.0,2.0,3.0|Bf:1": {},
		"":                           {},
		"ok\x00":                     {},
	} {
		got := parseReply(line)
		if want.kind == isGarbage {
			want = reply{text: line}
		}
		if got != want {
			t.Errorf("%q: %+v, want %+v", line, got, want)
		}
	}
}

// The published example of a status and its fields in any order.
func TestParseStatus(t *testing.T) {
	s, ok := parseStatus("<Idle|MPos:0.000,0.000,0.000|FS:0.0,0>")
	if !ok || s.state != "Idle" || s.at != [3]float64{} || s.isWork {
		t.Errorf("%+v", s)
	}
	s, ok = parseStatus("<Hold:1|WPos:1.5,-2.25,3.000|Ov:100,100,100|Bf:15,128|WCO:10.000,0.000,-1.000|Pn:XYZ>")
	if !ok || s.state != "Hold" || s.sub != "1" || !s.isWork || s.at != [3]float64{1.5, -2.25, 3} {
		t.Errorf("%+v", s)
	}
}

// NISTIR 6556, 3.3.2.1: an optional sign, digits, at most one point, no exponent.
func TestParseNumber(t *testing.T) {
	for text, want := range map[string]float64{"1": 1, "+1.5": 1.5, "-.25": -0.25, "3.": 3} {
		if v, ok := parseNumber(text); !ok || v != want {
			t.Errorf("%q: %v, %v", text, v, ok)
		}
	}
	for _, text := range []string{"", ".", "-", "--1", "1.2.3", "1e3", "0x10", "1_0", "NaN", "Inf", " 1"} {
		if v, ok := parseNumber(text); ok {
			t.Errorf("%q is taken for %v", text, v)
		}
	}
	for m, want := range map[float64]string{0.12: "120", -0.0001234: "-0.123", -1e-9: "0", 0.0123456: "12.346"} {
		if got := millimetres(m); got != want {
			t.Errorf("%v m: %s, want %s", m, got, want)
		}
	}
}

// Every number of the firmware's published interface description has its sentence,
// and each says what to do.
func TestEveryNumberHasASentence(t *testing.T) {
	for _, n := range append(slices.Collect(numbers(1, 17)), slices.Collect(numbers(20, 38))...) {
		if s := (&Refusal{"G1X1", n}).Error(); strings.Contains(s, "in no list") || !strings.Contains(s, ": ") {
			t.Errorf("error %d: %s", n, s)
		}
	}
	for n := range numbers(1, 10) {
		if s := (&Alarm{n}).Error(); strings.Contains(s, "in no list") || !strings.Contains(s, "home") {
			t.Errorf("alarm %d: %s", n, s)
		}
	}
	if s := (&Alarm{77}).Error(); !strings.Contains(s, "look it up") {
		t.Error(s)
	}
}

func numbers(from, to int) func(func(int) bool) {
	return func(yield func(int) bool) {
		for n := from; n <= to; n++ {
			if !yield(n) {
				return
			}
		}
	}
}

// The worked example of the firmware's published interface description: lines of
// 25, 40, 31, 58 and 20 bytes and a buffer of 128.
func TestCounterWorkedExample(t *testing.T) {
	c := counter{size: 128}
	for _, n := range []int{25, 40, 31} {
		if !c.fits(n) {
			t.Errorf("%d bytes do not fit beside %d", n, c.used)
		}
		c.send(n)
	}
	if c.used != 96 || c.fits(58) {
		t.Errorf("%d used", c.used)
	}
	c.answer()
	if c.used != 71 || c.fits(58) { // 129
		t.Errorf("%d used", c.used)
	}
	c.answer()
	if c.used != 31 || !c.fits(58) {
		t.Errorf("%d used", c.used)
	}
	c.send(58)
	if !c.fits(20) {
		t.Error("20 do not fit")
	}
	if c.send(20); c.used != 109 {
		t.Errorf("%d used", c.used)
	}
	for range 3 {
		c.answer()
	}
	if c.answer() || c.used != 0 {
		t.Error("an answer too many was taken")
	}
}
