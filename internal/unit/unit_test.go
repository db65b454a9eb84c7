// SPDX-License-Identifier: Apache-2.0

package unit

import (
	"encoding"
	"math"
	"strings"
	"testing"
)

func TestParse(t *testing.T) {
	for _, c := range []struct {
		text string
		into encoding.TextUnmarshaler
		want float64
	}{
		{"12.5 mm", new(Length), 0.0125},
		{"12.5mm", new(Length), 0.0125},
		{" 2 cm ", new(Length), 0.02},
		{"1 in", new(Length), 0.0254}, // international inch, exact since 1959
		{"1e2 µm", new(Length), 1e-4},
		{"14 g", new(Mass), 0.014},
		{"35 deg", new(Angle), 35 * math.Pi / 180},
		{"0.3 N/mm", new(Stiffness), 300},
		{"600 mm/min", new(Speed), 0.01},
		{"400 mm/s2", new(Acceleration), 0.4},
		{"1 kgf", new(Force), 9.80665}, // standard gravity, 3rd CGPM (1901)
		{"60 rpm", new(Turning), 2 * math.Pi},
		{"12.9 kG", new(FluxDensity), 1.29},
		{"30 N·mm", new(Torque), 0.03},
		{"1 kg·cm", new(Torque), 0.0980665},                   // 9.806 65 N × 1 cm: NIST SP 811, appendix B
		{"2.5 oz·in", new(Torque), 2.5 * 0.00706155181422604}, // NIST SP 811, appendix B: 7.061 552 E−03, here by its definition
		{"5 mH", new(Inductance), 0.005},
		{"250 ms", new(Duration), 0.25},
		{"9 V", new(Voltage), 9},
		{"800 mA", new(Current), 0.8},
		{"-3 mm", new(Length), -0.003},
	} {
		if err := c.into.UnmarshalText([]byte(c.text)); err != nil {
			t.Errorf("%q: %v", c.text, err)
			continue
		}
		// one rounding of the product: relative 2⁻⁵²
		if got := number(c.into); math.Abs(got-c.want) > 1e-15*math.Max(1, math.Abs(c.want)) {
			t.Errorf("%q = %g, want %g", c.text, got, c.want)
		}
	}
}

func number(v any) float64 {
	switch x := v.(type) {
	case *Length:
		return float64(*x)
	case *Mass:
		return float64(*x)
	case *Angle:
		return float64(*x)
	case *Stiffness:
		return float64(*x)
	case *Speed:
		return float64(*x)
	case *Acceleration:
		return float64(*x)
	case *Force:
		return float64(*x)
	case *Turning:
		return float64(*x)
	case *FluxDensity:
		return float64(*x)
	case *Torque:
		return float64(*x)
	case *Inductance:
		return float64(*x)
	case *Duration:
		return float64(*x)
	case *Voltage:
		return float64(*x)
	case *Current:
		return float64(*x)
	}
	return math.NaN()
}

func TestRefusals(t *testing.T) {
	for text, want := range map[string]string{
		"12.5":      "has no unit; these fit: mm, cm, m",
		"12.5 N":    `unit "N" does not fit here; these do: mm`,
		"mm":        "is not a number with a unit",
		"":          "is not a number with a unit",
		"1e999 mm":  "is not a number with a unit",
		"nan mm":    "is not a number with a unit",
		"1 2 mm":    "does not fit here",
		"12.5 mm m": "does not fit here",
		"40,5 mm":   `"40,5 mm" has a decimal comma; write a point: "40.5 mm"`,
	} {
		var l Length
		err := l.UnmarshalText([]byte(text))
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: got %v, want %q", text, err, want)
		}
	}
}

func TestPrint(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{MM(12.5).String(), "12.5 mm"},
		{Length(0.1 + 0.2).String(), "300 mm"},
		{Grams(14).String(), "14 g"},
		{Degrees(62).String(), "62 deg"},
		{Stiffness(100).String(), "0.1 N/mm"},
		{RPM(260).String(), "260 rpm"},
		{Length(0).String(), "0 mm"},
	} {
		if c.got != c.want {
			t.Errorf("printed %q, want %q", c.got, c.want)
		}
	}
}

// What String prints, UnmarshalText reads back.
func FuzzLength(f *testing.F) {
	f.Add("12.5 mm")
	f.Add("1e-3m")
	f.Add("..e mm")
	f.Fuzz(func(t *testing.T, s string) {
		var l, back Length
		if l.UnmarshalText([]byte(s)) != nil {
			return
		}
		if err := back.UnmarshalText([]byte(l.String())); err != nil {
			t.Fatalf("%q printed as %q: %v", s, l, err)
		}
		// String keeps six significant digits
		if d := math.Abs(float64(back - l)); d > 1e-5*math.Abs(float64(l)) {
			t.Fatalf("%q came back as %v", s, back)
		}
	})
}
