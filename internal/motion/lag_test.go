// SPDX-License-Identifier: Apache-2.0

package motion_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"boardhand/internal/motion"
	"boardhand/internal/unit"
)

// Whoever wraps them, the session still finds out which axis it was.
func TestLagAndStallAreFound(t *testing.T) {
	var lag *motion.Lag
	err := fmt.Errorf("step 2 of 5: %w", &motion.Lag{Axis: "y", Behind: unit.MM(1.25)})
	if !errors.As(err, &lag) || lag.Axis != "y" || !strings.Contains(err.Error(), "1.2 mm behind") {
		t.Errorf("lag: %v", err)
	}
	var stall *motion.Stall
	err = fmt.Errorf("step 2 of 5: %w", &motion.Stall{Axis: "x", At: unit.MM(41)})
	if !errors.As(err, &stall) || stall.At != unit.MM(41) || errors.As(err, &lag) && lag.Axis == "x" {
		t.Errorf("stall: %v", err)
	}
}
