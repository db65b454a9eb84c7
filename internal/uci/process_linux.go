// SPDX-License-Identifier: Apache-2.0

package uci

import (
	"os/exec"
	"syscall"
)

// alone gives a program a process group of its own and has the system kill it
// when we end.
func alone(cmd *exec.Cmd) {
	cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true, Pdeathsig: syscall.SIGKILL}
}
