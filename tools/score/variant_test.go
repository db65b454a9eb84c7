// SPDX-License-Identifier: Apache-2.0

package main

import (
	"errors"
	"os/exec"
	"strings"
	"testing"
	"time"
)

// TestRunLimited: a program that only waits is not cut short, one that
// computes for ever is, and a failure is told with what was said.
func TestRunLimited(t *testing.T) {
	if _, _, err := runLimited(exec.Command("sleep", "1.5"), time.Second); err != nil {
		t.Errorf("waiting: %v", err)
	}
	if _, took, err := runLimited(exec.Command("sh", "-c", "while :; do :; done"), time.Second); !errors.Is(err, errEndless) {
		t.Errorf("computing for ever: %v after %v", err, took)
	}
	said, _, err := runLimited(exec.Command("sh", "-c", "echo why; exit 3"), time.Minute)
	if err == nil || errors.Is(err, errEndless) || strings.TrimSpace(said) != "why" {
		t.Errorf("failing: %q, %v", said, err)
	}
}
