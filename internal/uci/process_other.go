// SPDX-License-Identifier: Apache-2.0

//go:build unix && !linux

package uci

import (
	"os/exec"
	"syscall"
)

// alone gives a program a process group of its own; its guard ends it with us.
func alone(cmd *exec.Cmd) { cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true} }
