// SPDX-License-Identifier: Apache-2.0

//go:build unix

package uci

import (
	"os"
	"os/exec"
	"syscall"
)

// endGroup kills every process of a group.
func endGroup(pid int) { _ = syscall.Kill(-pid, syscall.SIGKILL) }

// guard is a small process in a program's group that ends the group when we
// end, however we end: it reads from a pipe whose other end only we hold.
type guard struct {
	cmd  *exec.Cmd
	hold *os.File
}

// watchOver starts the guard of a group; nil where there is no shell for it.
func watchOver(group int) *guard {
	r, w, err := os.Pipe()
	if err != nil {
		return nil
	}
	defer func() { _ = r.Close() }()
	g := &guard{cmd: exec.Command("/bin/sh", "-c", "read -r _; kill -s KILL 0"), hold: w}
	g.cmd.Stdin = r
	g.cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true, Pgid: group}
	if err := g.cmd.Start(); err != nil {
		_ = w.Close()
		return nil
	}
	return g
}

// end waits for the guard, which was ended with the group.
func (g *guard) end() {
	if g == nil {
		return
	}
	_ = g.cmd.Process.Kill()
	_ = g.cmd.Wait()
	_ = g.hold.Close()
}
