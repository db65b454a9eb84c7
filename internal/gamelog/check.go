// SPDX-License-Identifier: Apache-2.0

package gamelog

import (
	"context"
	"fmt"
	"os"
	"path/filepath"

	"boardhand/internal/store"
)

// Finding is what was found of one game, or of the file (game 0).
type Finding struct {
	Game     int64    `json:"game,omitempty"`
	File     string   `json:"file,omitempty"`
	Whole    bool     `json:"whole"`
	Plies    int      `json:"plies,omitempty"`
	Entries  int      `json:"entries,omitempty"`
	Pictures int      `json:"pictures,omitempty"` // that are there
	Gone     int      `json:"pictures_gone,omitempty"`
	Problems []string `json:"problems,omitempty"`
}

// Check looks whether a kept game is whole: every checksum holds, no entry is
// missing, and the log can be played through. Pictures that are gone are counted
// and no damage.
func Check(ctx context.Context, s *store.Store, g store.Game) Finding {
	v := Finding{Game: g.ID, Plies: g.Plies}
	if g.Damaged != nil {
		v.Problems = append(v.Problems, g.Damaged.Error())
	}
	entries, err := s.Entries(ctx, g.ID)
	if err != nil {
		v.Problems = append(v.Problems, err.Error())
	}
	v.Entries = len(entries)
	for i, e := range entries {
		if e.Damaged != nil {
			v.Problems = append(v.Problems, e.Damaged.Error())
		} else if e.N != i+1 && (i == 0 || e.N != entries[i-1].N+1) {
			v.Problems = append(v.Problems, fmt.Sprintf("game %d: an entry is missing before entry %d", g.ID, e.N))
		}
		if e.Picture == "" || e.Damaged != nil {
			continue
		}
		if info, err := os.Stat(filepath.Join(s.Pictures(g.ID), e.Picture)); err == nil && info.Size() > 0 {
			v.Pictures++
		} else {
			v.Gone++
		}
	}
	if len(v.Problems) == 0 {
		if _, err := Replay(g, entries); err != nil {
			v.Problems = append(v.Problems, err.Error())
		}
	}
	return v
}
