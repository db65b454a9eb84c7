// SPDX-License-Identifier: Apache-2.0

package store

import (
	"crypto/sha256"
	"fmt"
	"time"
)

// Game is one game's heading.
type Game struct {
	ID      int64
	Started time.Time
	Rig     string // path of the rig file
	RigText string // of the rig file when the game began; "" in games of older stores
	Machine string // the machine's side, "black" or "white"; "": the game was added from a file
	Start   string // FEN
	Result  string // "*", "1-0", "0-1", "1/2-1/2"
	Reason  string // why it is over; "" while it is not
	Plies   int
	// Damaged says what is wrong with the heading on disk; the other fields are
	// then not to be trusted. Nil: nothing.
	Damaged error
}

// Unfinished is the result of a game that is not over.
const Unfinished = "*"

// Abandoned is the reason of a game that was given up for another one.
const Abandoned = "abandoned"

// Added is the reason of a game of a file that its moves do not end.
const Added = "added"

// IsAdded says whether the game was added from a file: nobody played it at the table.
func (g Game) IsAdded() bool { return g.Damaged == nil && g.Machine == "" }

// Open says whether the game can simply go on: it is neither over nor given up.
func (g Game) Open() bool { return g.Damaged == nil && g.Result == Unfinished && g.Reason == "" }

// gameColumns are the columns that a heading's checksum covers, in this order.
var gameColumns = []string{"started", "rig", "machine", "start", "result", "reason", "rig_text", "rig_sha256"}

func (g Game) values() []string {
	sum := ""
	if g.RigText != "" {
		sum = fmt.Sprintf("%x", sha256.Sum256([]byte(g.RigText)))
	}
	return []string{stamp(g.Started), g.Rig, g.Machine, g.Start, g.Result, g.Reason, g.RigText, sum}
}

// stamp is a time as it is kept.
func stamp(t time.Time) string { return t.UTC().Format(time.RFC3339Nano) }
