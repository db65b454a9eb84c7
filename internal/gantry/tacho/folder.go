// SPDX-License-Identifier: Apache-2.0

// Package tacho drives motors of the tacho-motor class: a folder of attributes for
// each motor that is read and written as text. One or two motors turn an axis; both
// axes follow one motion in time, corrected on the way by what the motors count.
// Homing presses against the ends at limited duty; the lift goes from end to end.
//
// Frame: Machine, metres, zero at the low ends. Source: the tacho-motor kernel
// driver sources, motors/tacho_motor_class.c, commit of 26 January 2022.
package tacho

import (
	"os"
	"path/filepath"
)

// Class is where the kernel shows the motors.
const Class Sysfs = "/sys/class/tacho-motor"

// Folder holds the motors' attributes, "motor0/position". Its errors carry the
// kernel's numbers.
type Folder interface {
	// List are the names of the motors that are there.
	List() ([]string, error)
	Read(name string) (string, error)
	Write(name, value string) error
}

// Sysfs is a folder of the system.
type Sysfs string

// List are the names of the motors that are there; none where the class is not.
func (s Sysfs) List() ([]string, error) {
	entries, err := os.ReadDir(string(s))
	if os.IsNotExist(err) {
		return nil, nil
	}
	var out []string
	for _, e := range entries {
		out = append(out, e.Name())
	}
	return out, err
}

// Read reads an attribute.
func (s Sysfs) Read(name string) (string, error) {
	text, err := os.ReadFile(filepath.Join(string(s), name))
	return string(text), err
}

// Write writes an attribute in one piece; the attribute must be there.
func (s Sysfs) Write(name, value string) error {
	f, err := os.OpenFile(filepath.Join(string(s), name), os.O_WRONLY, 0)
	if err != nil {
		return err
	}
	_, err = f.WriteString(value)
	if closed := f.Close(); err == nil {
		err = closed
	}
	return err
}
