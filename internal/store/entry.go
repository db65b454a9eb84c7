// SPDX-License-Identifier: Apache-2.0

package store

import (
	"errors"
	"fmt"
	"time"
)

// Entry is one thing that happened, in order.
type Entry struct {
	N       int
	At      time.Time
	State   string
	Move    string // UCI, when the entry finishes a move
	Decided string // UCI, when the machine has chosen a move
	Note    string // prose, for people
	Picture string // file name under the game's pictures, or ""
	Back    string // UCI, when the entry takes a move back
	Task    string // a task begun, got on with or ended
	// Standing is where the pieces are, when one beside the board has changed.
	Standing string
	Event    string // what happened, by its name
	Detail   string // what belongs to Event, as JSON; the store does not look into it
	// Damaged says what is wrong with the entry on disk; the other fields but N
	// are then not to be trusted. Nil: nothing.
	Damaged error
}

// entryColumns are the columns that an entry's checksum covers, in this order.
var entryColumns = []string{"at", "state", "move", "decided", "note", "picture", "back", "task", "standing", "event", "detail"}

func (e Entry) values() []string {
	return []string{stamp(e.At), e.State, e.Move, e.Decided, e.Note, e.Picture, e.Back, e.Task, e.Standing, e.Event, e.Detail}
}

// sum is the entry's checksum.
func (e Entry) sum(game int64) uint32 { return checksum(game, int64(e.N), e.values()) }

// played is a game that is written to, as it stands in memory.
type played struct {
	game    Game
	entries []Entry
}

// Damage is something of the store that is not as it was written.
type Damage struct {
	What string // "game 3, entry 17"
	Err  error
}

func (d *Damage) Error() string {
	return fmt.Sprintf("%s is damaged on disk: %v", d.What, d.Err)
}

func (d *Damage) Unwrap() error { return d.Err }

var errSum = errors.New("its checksum does not fit")
