// SPDX-License-Identifier: Apache-2.0

package uci

import "time"

// Patience is how long a player is waited for. A zero field is the usual one.
type Patience struct {
	Start time.Duration // to say uciok, and readyok: networks and memory are loaded
	Grace time.Duration // to be ready, to answer after its time is up, and to answer after stop
	Quit  time.Duration // to end after quit

	After func(time.Duration) <-chan time.Time // the clock; time.After when nil
}

// usual fills in what is not given.
func (p Patience) usual() Patience {
	for _, f := range []struct {
		field *time.Duration
		usual time.Duration
	}{{&p.Start, startTime}, {&p.Grace, graceTime}, {&p.Quit, quitTime}} {
		if *f.field <= 0 {
			*f.field = f.usual
		}
	}
	if p.After == nil {
		p.After = time.After
	}
	return p
}
