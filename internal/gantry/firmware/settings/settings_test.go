// SPDX-License-Identifier: Apache-2.0

package settings_test

import (
	"errors"
	"slices"
	"testing"

	"boardhand/internal/gantry/firmware/blocks"
	"boardhand/internal/gantry/firmware/settings"
	"boardhand/internal/gantry/firmware/words"
)

// The list reads as it is printed in the documents.
func TestPrintedDefaults(t *testing.T) {
	got := settings.New(nil).Lines()
	for _, want := range []string{"$0=10", "$1=25", "$24=25.000", "$25=500.000", "$26=250", "$27=1.000", "$30=1000", "$31=0", "$32=0",
		"$100=250.000", "$112=500.000", "$120=10.000", "$132=200.000"} {
		if !slices.Contains(got, want) {
			t.Errorf("no %q in %q", want, got)
		}
	}
	if len(got) != 34 {
		t.Errorf("%d settings, want 34", len(got))
	}
}

func TestSet(t *testing.T) {
	s := settings.New(nil)
	for text, want := range map[string]words.Fault{
		"110=6000": 0, "20=1": words.NoSoftLimits, "22=1": 0, "0=2": words.ShortPulse, "7=1": words.UnknownSetting, "x=1": words.UnknownSetting,
		"110=": words.BadNumber, "110=-1": words.Negative, "110": words.BadNumber, "110=NaN": words.BadNumber, "110=Inf": words.BadNumber,
	} {
		var got words.Fault
		if text != "20=1" {
			errors.As(s.Set(text), &got)
		} else {
			errors.As(settings.New(nil).Set(text), &got)
		}
		if got != want {
			t.Errorf("$%s: %v, want %v", text, got, want)
		}
	}
	if s.Limits().Rate != (blocks.Vector{100, 500.0 / 60, 500.0 / 60}) || !s.Is(settings.Homing) {
		t.Errorf("%v", s.Limits())
	}
	if s.Set("20=1") != nil || s.Set("22=0") != nil || s.Is(settings.SoftLimits) {
		t.Error("soft limits stay without homing")
	}
}
