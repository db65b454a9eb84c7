// SPDX-License-Identifier: Apache-2.0

package words_test

import (
	"errors"
	"testing"

	"boardhand/internal/gantry/firmware/words"
)

// Each kind of bad line gets the number that the firmware's list of errors has for it.
func TestFaults(t *testing.T) {
	for line, want := range map[string]words.Fault{
		"G1 X10 F100": 0, "g1x10f100": 0, "G1 X1 (there) F1 ; and so on": 0, "": 0, "X-.5": 0, "G0X+1.": 0, "G4 P0.01": 0,
		"G90 G21 G94 G1 X1 F1 M3 S5 M8": 0, "G53 G0 X1": 0, "G92 X7": 0, "G92.1": 0, "G10 L20 P1 X0": 0, "G28 X1": 0, "G80": 0, "N12 G0 X1": 0,
		"10": words.LetterExpected, "G1 X1 *4": words.LetterExpected, "-X1": words.LetterExpected,
		"X": words.BadNumber, "G1 X1.2.3": words.LetterExpected, "G1 X-": words.BadNumber, "X1E3": words.Unsupported, "X.": words.BadNumber,
		"G1 X1 F-5": words.Negative, "G4 P-1": words.Negative, "S-1": words.Negative,
		"G5 X1": words.Unsupported, "G2.5": words.Unsupported, "M7": words.Unsupported, "M42": words.Unsupported, "A1": words.Unsupported, "G59.1": words.Unsupported,
		"G0 G1 X1": words.GroupTwice, "G90 G91": words.GroupTwice, "M3 M5": words.GroupTwice, "M8 M9": words.GroupTwice, "G92 X1 G4 P1": words.GroupTwice,
		"M3.5":     words.NotInteger,
		"G1 G92 X": words.BadNumber, "G1 G92 X1": words.TwoAxisUsers, "G0 G28 X1": words.TwoAxisUsers, "G10 L2 P1 G0 X1": words.TwoAxisUsers,
		"G1 X1 X2": words.WordTwice, "F1 F1": words.WordTwice,
		"G0": words.NoAxisWords, "G1 F100": words.NoAxisWords, "G92": words.NoAxisWords,
		"N-1": words.Negative, "N1.5": words.BadLineNumber, "G4": words.ValueMissing, "G10 L2 X1": words.ValueMissing,
		"G53 G2 X1 I1": words.OnlyStraight, "G80 X1": words.UnusedAxisWords, "G1 X1 P2": words.UnusedValueWords,
	} {
		_, err := words.Parse(words.Strip(line))
		var got words.Fault
		errors.As(err, &got)
		if got != want || (err == nil) != (want == 0) {
			t.Errorf("%q: %v, want error:%d", line, err, want)
		}
	}
}

func TestValues(t *testing.T) {
	l, err := words.Parse(words.Strip("g91 g1 x-12.5 y.25 (z9) f600"))
	if err != nil || l.Value['X'] != -12.5 || l.Value['Y'] != 0.25 || l.Has('Z') || l.Value['F'] != 600 {
		t.Fatalf("%v %v", l, err)
	}
	if !l.Is(words.Motion, 10) || !l.Is(words.Distance, 910) || l.Is(words.Units, 210) {
		t.Errorf("%v", l.Code)
	}
}

// Whatever arrives is read or refused with a number.
func FuzzParse(f *testing.F) {
	for _, s := range []string{"G1 X10 F100", "(", "G92.1", "X1.2.3", "N9999999999", "\x00\xff", "G999999999999999999"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		_, err := words.Parse(words.Strip(s))
		var fault words.Fault
		if err != nil && (!errors.As(err, &fault) || fault < 1) {
			t.Errorf("%q: %v", s, err)
		}
	})
}
