// SPDX-License-Identifier: Apache-2.0

// Package unit holds the quantities that cross package borders: SI float64
// inside, a unit in everything a person types or reads. "12.5 mm" parses;
// a bare "12.5" is refused with the units that would fit.
package unit

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// The quantities, each stored in its SI unit.
type (
	Length       float64 // metre
	Mass         float64 // kilogram
	Force        float64 // newton
	Stiffness    float64 // newton per metre
	Angle        float64 // radian
	Speed        float64 // metre per second
	Acceleration float64 // metre per second squared
	Jerk         float64 // metre per second cubed
	Torque       float64 // newton metre
	Turning      float64 // radian per second
	FluxDensity  float64 // tesla
	Duration     float64 // second
	Voltage      float64 // volt
	Current      float64 // ampere
	Inductance   float64 // henry
	Resistance   float64 // ohm
	Inertia      float64 // kilogram metre squared
	Money        float64 // the maker's own currency, no unit
)

// suffix is one way of writing a quantity: value in SI = number × factor.
type suffix struct {
	name   string
	factor float64
}

const (
	degree = math.Pi / 180
	rpm    = 2 * math.Pi / 60
	gForce = 9.80665 // standard gravity, m/s², CGPM 1901
	kgfCM  = gForce * 1e-2
	ozfIn  = 0.45359237 / 16 * gForce * 0.0254 // NIST SP 811, appendix B: 7.061 552 mN·m
)

// The suffixes of each quantity; the first is the one used for printing.
var (
	lengths       = []suffix{{"mm", 1e-3}, {"cm", 1e-2}, {"m", 1}, {"um", 1e-6}, {"µm", 1e-6}, {"in", 0.0254}}
	masses        = []suffix{{"g", 1e-3}, {"kg", 1}}
	forces        = []suffix{{"N", 1}, {"mN", 1e-3}, {"gf", gForce * 1e-3}, {"kgf", gForce}}
	stiffnesses   = []suffix{{"N/mm", 1e3}, {"N/m", 1}}
	angles        = []suffix{{"deg", degree}, {"°", degree}, {"rad", 1}}
	speeds        = []suffix{{"mm/s", 1e-3}, {"m/s", 1}, {"mm/min", 1e-3 / 60}}
	accelerations = []suffix{{"mm/s2", 1e-3}, {"mm/s²", 1e-3}, {"m/s2", 1}, {"m/s²", 1}}
	jerks         = []suffix{{"mm/s3", 1e-3}, {"mm/s³", 1e-3}, {"m/s3", 1}, {"m/s³", 1}}
	torques       = []suffix{{"N·m", 1}, {"Nm", 1}, {"N m", 1}, {"N·mm", 1e-3}, {"Nmm", 1e-3}, {"N·cm", 1e-2}, {"Ncm", 1e-2}, {"kg·cm", kgfCM}, {"kgf·cm", kgfCM}, {"kg cm", kgfCM}, {"kgcm", kgfCM}, {"kg-cm", kgfCM}, {"oz·in", ozfIn}, {"oz-in", ozfIn}, {"oz in", ozfIn}, {"ozin", ozfIn}}
	turnings      = []suffix{{"rpm", rpm}, {"rad/s", 1}, {"deg/s", degree}, {"rev/s", 2 * math.Pi}}
	fluxes        = []suffix{{"T", 1}, {"mT", 1e-3}, {"G", 1e-4}, {"kG", 0.1}}
	durations     = []suffix{{"s", 1}, {"ms", 1e-3}, {"min", 60}}
	voltages      = []suffix{{"V", 1}, {"mV", 1e-3}}
	currents      = []suffix{{"A", 1}, {"mA", 1e-3}}
	resistances   = []suffix{{"Ω", 1}, {"ohm", 1}, {"Ohm", 1}}
	inertias      = []suffix{{"g·cm2", 1e-7}, {"g·cm²", 1e-7}, {"gcm2", 1e-7}, {"gcm²", 1e-7}, {"kg·m2", 1}, {"kg·m²", 1}}
	inductances   = []suffix{{"mH", 1e-3}, {"H", 1}, {"uH", 1e-6}, {"µH", 1e-6}}
)

// MM returns a length of v millimetres.
func MM(v float64) Length { return Length(v * 1e-3) }

// MM gives the length in millimetres.
func (l Length) MM() float64 { return float64(l) * 1e3 }

// Grams returns a mass of v grams.
func Grams(v float64) Mass { return Mass(v * 1e-3) }

// Grams gives the mass in grams.
func (m Mass) Grams() float64 { return float64(m) * 1e3 }

// Degrees returns an angle of v degrees.
func Degrees(v float64) Angle { return Angle(v * degree) }

// Degrees gives the angle in degrees.
func (a Angle) Degrees() float64 { return float64(a) / degree }

// RPM returns a turning rate of v revolutions a minute.
func RPM(v float64) Turning { return Turning(v * rpm) }

// RPM gives the turning rate in revolutions a minute.
func (t Turning) RPM() float64 { return float64(t) / rpm }

// parse reads "number unit"; the space between may be missing.
func parse(text string, table []suffix) (float64, error) {
	s := strings.TrimSpace(text)
	n := 0
	for n < len(s) && strings.IndexByte("+-.0123456789eE", s[n]) >= 0 {
		n++
	}
	for n > 0 && (s[n-1] == 'e' || s[n-1] == 'E') {
		n--
	}
	v, err := strconv.ParseFloat(s[:n], 64)
	if err != nil || math.IsInf(v, 0) {
		return 0, fmt.Errorf("%q is not a number with a unit; write it like %q", text, "12.5 "+table[0].name)
	}
	if decimal, rest, ok := strings.Cut(s[n:], ","); ok && decimal == "" && rest != "" && rest[0] >= '0' && rest[0] <= '9' {
		return 0, fmt.Errorf("%q has a decimal comma; write a point: %q", text, strings.Replace(s, ",", ".", 1))
	}
	name := strings.TrimSpace(s[n:])
	for _, u := range table {
		if u.name == name {
			return v * u.factor, nil
		}
	}
	if name == "" {
		return 0, fmt.Errorf("%q has no unit; these fit: %s", text, names(table))
	}
	return 0, fmt.Errorf("unit %q does not fit here; these do: %s", name, names(table))
}

func names(table []suffix) string {
	var b strings.Builder
	for i, u := range table {
		if i > 0 {
			b.WriteString(", ")
		}
		b.WriteString(u.name)
	}
	return b.String()
}

// show prints v in the table's first unit with at most six significant digits.
func show(v float64, table []suffix) string {
	return strconv.FormatFloat(round(v/table[0].factor), 'g', -1, 64) + " " + table[0].name
}

// round keeps six significant digits: finer than any ruler or data sheet here.
func round(v float64) float64 {
	r, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 6, 64), 64)
	return r
}
