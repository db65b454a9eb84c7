package carry_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"boardhand/internal/carry"
	"boardhand/internal/unit"
)

// Whoever wraps them, the session still finds out which axis it was.
func TestLagAndStallAreFound(t *testing.T) {
	var lag *carry.Lag
	err := fmt.Errorf("step 2 of 5: %w", &carry.Lag{Axis: "y", Behind: unit.MM(1.25)})
	if !errors.As(err, &lag) || lag.Axis != "y" || !strings.Contains(err.Error(), "1.2 mm behind") {
		t.Errorf("lag: %v", err)
	}
	var stall *carry.Stall
	err = fmt.Errorf("step 2 of 5: %w", &carry.Stall{Axis: "x", At: unit.MM(41)})
	if !errors.As(err, &stall) || stall.At != unit.MM(41) || errors.As(err, &lag) && lag.Axis == "x" {
		t.Errorf("stall: %v", err)
	}
}
