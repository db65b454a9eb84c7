// SPDX-License-Identifier: Apache-2.0

package main

import (
	"slices"
	"strings"
	"testing"
)

// TestNumbers reads which sessions are asked for, and refuses the rest with
// what is allowed.
func TestNumbers(t *testing.T) {
	good := []struct {
		o    options
		want []int
	}{
		{options{set: "tune", from: 2, to: 4}, []int{2, 3, 4}},
		{options{set: "gate", from: 1, to: 3, only: "22, 6"}, []int{22, 6}},
	}
	for _, c := range good {
		if got, err := c.o.numbers(); err != nil || !slices.Equal(got, c.want) {
			t.Errorf("%+v: %v, %v", c.o, got, err)
		}
	}
	bad := map[string]options{
		"-set must be one of": {set: "mine", from: 1, to: 2},
		"in order":            {set: "tune", from: 3, to: 2},
		"-only takes":         {set: "tune", only: "6,,7"},
		"-jpeg must be":       {set: "tune", from: 1, to: 2, jpeg: 101},
	}
	for want, o := range bad {
		if _, err := o.numbers(); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%+v: %v; want %q", o, err, want)
		}
	}
}

// TestList tells of a session the same as its plan, drawing nothing.
func TestList(t *testing.T) {
	o := options{set: "gate", frames: 14}
	var a, b strings.Builder
	for _, w := range []*strings.Builder{&a, &b} {
		if err := listSession(w, o, "gate06"); err != nil {
			t.Fatal(err)
		}
	}
	if a.String() != b.String() || !strings.Contains(a.String(), "promotion+nudge 2") || !strings.Contains(a.String(), "beech and oak") {
		t.Errorf("%s\n%s", a.String(), b.String())
	}
}
