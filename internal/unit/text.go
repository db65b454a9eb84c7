// SPDX-License-Identifier: Apache-2.0

package unit

// The three methods below are the same for every quantity: String prints in
// the everyday unit, UnmarshalText parses with a unit, MarshalText is String.

// String prints the quantity with its everyday unit.
func (l Length) String() string { return show(float64(l), lengths) }

// MarshalText writes what String prints.
func (l Length) MarshalText() ([]byte, error) { return []byte(l.String()), nil }

// UnmarshalText parses a number with its unit.
func (l *Length) UnmarshalText(b []byte) error {
	x, err := parse(string(b), lengths)
	*l = Length(x)
	return err
}

// String prints the quantity with its everyday unit.
func (m Mass) String() string { return show(float64(m), masses) }

// MarshalText writes what String prints.
func (m Mass) MarshalText() ([]byte, error) { return []byte(m.String()), nil }

// UnmarshalText parses a number with its unit.
func (m *Mass) UnmarshalText(b []byte) error {
	x, err := parse(string(b), masses)
	*m = Mass(x)
	return err
}

// String prints the quantity with its everyday unit.
func (f Force) String() string { return show(float64(f), forces) }

// MarshalText writes what String prints.
func (f Force) MarshalText() ([]byte, error) { return []byte(f.String()), nil }

// UnmarshalText parses a number with its unit.
func (f *Force) UnmarshalText(b []byte) error {
	x, err := parse(string(b), forces)
	*f = Force(x)
	return err
}

// String prints the quantity with its everyday unit.
func (s Stiffness) String() string { return show(float64(s), stiffnesses) }

// MarshalText writes what String prints.
func (s Stiffness) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// UnmarshalText parses a number with its unit.
func (s *Stiffness) UnmarshalText(b []byte) error {
	x, err := parse(string(b), stiffnesses)
	*s = Stiffness(x)
	return err
}

// String prints the quantity with its everyday unit.
func (a Angle) String() string { return show(float64(a), angles) }

// MarshalText writes what String prints.
func (a Angle) MarshalText() ([]byte, error) { return []byte(a.String()), nil }

// UnmarshalText parses a number with its unit.
func (a *Angle) UnmarshalText(b []byte) error {
	x, err := parse(string(b), angles)
	*a = Angle(x)
	return err
}

// String prints the quantity with its everyday unit.
func (s Speed) String() string { return show(float64(s), speeds) }

// MarshalText writes what String prints.
func (s Speed) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// UnmarshalText parses a number with its unit.
func (s *Speed) UnmarshalText(b []byte) error {
	x, err := parse(string(b), speeds)
	*s = Speed(x)
	return err
}

// String prints the quantity with its everyday unit.
func (a Acceleration) String() string { return show(float64(a), accelerations) }

// MarshalText writes what String prints.
func (a Acceleration) MarshalText() ([]byte, error) { return []byte(a.String()), nil }

// UnmarshalText parses a number with its unit.
func (a *Acceleration) UnmarshalText(b []byte) error {
	x, err := parse(string(b), accelerations)
	*a = Acceleration(x)
	return err
}

// String prints the quantity with its everyday unit.
func (j Jerk) String() string { return show(float64(j), jerks) }

// MarshalText writes what String prints.
func (j Jerk) MarshalText() ([]byte, error) { return []byte(j.String()), nil }

// UnmarshalText parses a number with its unit.
func (j *Jerk) UnmarshalText(b []byte) error {
	x, err := parse(string(b), jerks)
	*j = Jerk(x)
	return err
}

// String prints the quantity with its everyday unit.
func (t Torque) String() string { return show(float64(t), torques) }

// MarshalText writes what String prints.
func (t Torque) MarshalText() ([]byte, error) { return []byte(t.String()), nil }

// UnmarshalText parses a number with its unit.
func (t *Torque) UnmarshalText(b []byte) error {
	x, err := parse(string(b), torques)
	*t = Torque(x)
	return err
}

// String prints the quantity with its everyday unit.
func (t Turning) String() string { return show(float64(t), turnings) }

// MarshalText writes what String prints.
func (t Turning) MarshalText() ([]byte, error) { return []byte(t.String()), nil }

// UnmarshalText parses a number with its unit.
func (t *Turning) UnmarshalText(b []byte) error {
	x, err := parse(string(b), turnings)
	*t = Turning(x)
	return err
}

// String prints the quantity with its everyday unit.
func (f FluxDensity) String() string { return show(float64(f), fluxes) }

// MarshalText writes what String prints.
func (f FluxDensity) MarshalText() ([]byte, error) { return []byte(f.String()), nil }

// UnmarshalText parses a number with its unit.
func (f *FluxDensity) UnmarshalText(b []byte) error {
	x, err := parse(string(b), fluxes)
	*f = FluxDensity(x)
	return err
}

// String prints the quantity with its everyday unit.
func (d Duration) String() string { return show(float64(d), durations) }

// MarshalText writes what String prints.
func (d Duration) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// UnmarshalText parses a number with its unit.
func (d *Duration) UnmarshalText(b []byte) error {
	x, err := parse(string(b), durations)
	*d = Duration(x)
	return err
}

// String prints the quantity with its everyday unit.
func (v Voltage) String() string { return show(float64(v), voltages) }

// MarshalText writes what String prints.
func (v Voltage) MarshalText() ([]byte, error) { return []byte(v.String()), nil }

// UnmarshalText parses a number with its unit.
func (v *Voltage) UnmarshalText(b []byte) error {
	x, err := parse(string(b), voltages)
	*v = Voltage(x)
	return err
}

// String prints the quantity with its everyday unit.
func (c Current) String() string { return show(float64(c), currents) }

// MarshalText writes what String prints.
func (c Current) MarshalText() ([]byte, error) { return []byte(c.String()), nil }

// UnmarshalText parses a number with its unit.
func (c *Current) UnmarshalText(b []byte) error {
	x, err := parse(string(b), currents)
	*c = Current(x)
	return err
}

// String prints the quantity with its everyday unit.
func (i Inductance) String() string { return show(float64(i), inductances) }

// MarshalText writes what String prints.
func (i Inductance) MarshalText() ([]byte, error) { return []byte(i.String()), nil }

// UnmarshalText parses a number with its unit.
func (i *Inductance) UnmarshalText(b []byte) error {
	x, err := parse(string(b), inductances)
	*i = Inductance(x)
	return err
}

// String prints the quantity with its everyday unit.
func (r Resistance) String() string { return show(float64(r), resistances) }

// MarshalText writes what String prints.
func (r Resistance) MarshalText() ([]byte, error) { return []byte(r.String()), nil }

// UnmarshalText parses a number with its unit.
func (r *Resistance) UnmarshalText(b []byte) error {
	x, err := parse(string(b), resistances)
	*r = Resistance(x)
	return err
}

// String prints the quantity with its everyday unit.
func (j Inertia) String() string { return show(float64(j), inertias) }

// MarshalText writes what String prints.
func (j Inertia) MarshalText() ([]byte, error) { return []byte(j.String()), nil }

// UnmarshalText parses a number with its unit.
func (j *Inertia) UnmarshalText(b []byte) error {
	x, err := parse(string(b), inertias)
	*j = Inertia(x)
	return err
}
