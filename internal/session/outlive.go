// SPDX-License-Identifier: Apache-2.0

package session

import (
	"os/signal"
	"syscall"
)

// outliveTerminal lets a game go on when its terminal is closed (SIGHUP) or
// nobody reads what it prints any longer (SIGPIPE).
func outliveTerminal() { signal.Ignore(syscall.SIGHUP, syscall.SIGPIPE) }
