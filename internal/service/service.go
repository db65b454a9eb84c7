// SPDX-License-Identifier: Apache-2.0

// Package service tells the service manager that started the program how it goes: that it is
// ready, that it is alive, that it ends (sd_notify(3)). Without one it does nothing.
package service

import (
	"context"
	"time"

	"github.com/coreos/go-systemd/v22/daemon"
)

// Run says that the program is ready, and until the context ends, which it says too, that it is
// alive: twice in each time that the manager leaves it. alive is asked before, and returns once
// the program has shown that it is; a program that hangs is not told of, and started anew.
func Run(ctx context.Context, alive func()) {
	tell(daemon.SdNotifyReady)
	defer tell(daemon.SdNotifyStopping)
	every, err := daemon.SdWatchdogEnabled(false)
	if err != nil || every == 0 {
		<-ctx.Done()
		return
	}
	beat := time.NewTicker(every / 2)
	defer beat.Stop()
	for {
		select {
		case <-ctx.Done():
			return
		case <-beat.C:
			alive()
			tell(daemon.SdNotifyWatchdog)
		}
	}
}

// tell says something to the manager; where it cannot be said nothing is lost but that.
func tell(state string) { _, _ = daemon.SdNotify(false, state) }
