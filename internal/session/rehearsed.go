// SPDX-License-Identifier: Apache-2.0

package session

import (
	"boardhand/internal/chess"
	"boardhand/internal/rehearsal"
	"boardhand/internal/table"
)

// Rehearsed is the bench as a rehearsal needs it: it can be restarted.
func (b *Bench) Rehearsed(p table.Player) (m *rehearsal.Machine, err error) {
	m = &rehearsal.Machine{World: b.World, Guest: b.World.Guest(), Settings: settings(b.rig), Restart: b.Restart,
		Connect: func() table.Parts { return b.parts(nil, p, nil) }}
	m.Settings.Suspects, err = table.NewSuspects(b.rig)
	return m, err
}

// Restart is what a program does that begins anew: its reader knows nothing but
// the position, and it suspects nothing but what the log tells it.
func (b *Bench) Restart(pos chess.Position) (suspects *table.Suspects, err error) {
	if suspects, err = table.NewSuspects(b.rig); err != nil {
		return nil, err
	}
	if b.Eye, err = NewEye(b.rig); err != nil {
		return nil, err
	}
	b.Eye.Begin(pos)
	return suspects, nil
}
