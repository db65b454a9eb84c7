// SPDX-License-Identifier: Apache-2.0

package rehearsal

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"

	"boardhand/internal/chess"
	"boardhand/internal/gamelog"
	"boardhand/internal/store"
	"boardhand/internal/table/journal"
	"boardhand/internal/twin"
)

// powerCut is the fault that the rehearsal makes itself: the twin cuts the
// machine's power, and the program goes with it.
const powerCut twin.Fault = "power_cut"

// FaultNames are the faults that can be put in.
func FaultNames() []string {
	return append(twin.FaultNames(), string(powerCut))
}

// ParseFaults reads a list with commas: those of the twin, and whether the power is cut.
func ParseFaults(text string) (faults []twin.Fault, hasCuts bool, err error) {
	names := strings.Split(text, ",")
	others := slices.DeleteFunc(names, func(n string) bool { return strings.TrimSpace(n) == string(powerCut) })
	faults, err = twin.ParseFaults(strings.Join(others, ","))
	if err != nil {
		err = fmt.Errorf("%w, or %s", err, powerCut)
	}
	return faults, len(others) < len(names), err
}

// errCut says that the power went.
var errCut = errors.New("the power was cut")

// cuts lets the power go at random moments of a game, and keeps in memory what
// would be on disk. The zero value never does.
type cuts struct {
	chance  *rand.Rand // nil: the power stays
	world   World
	left    int // happenings until the next cut
	isCut   bool
	end     context.CancelCauseFunc // of the session
	heading store.Game
	entries []store.Entry
}

// newCuts is the supply of one rehearsed game.
func newCuts(w World, seed int64, isOn bool) cuts {
	c := cuts{world: w}
	if isOn {
		c.chance = rand.New(rand.NewPCG(uint64(seed), streamCuts))
	}
	return c
}

// streamCuts keeps chance apart from the twin's streams.
const streamCuts = 1000

// begin begins a game's log.
func (c *cuts) begin(g *chess.Game, machine chess.Color) {
	c.heading, c.entries = store.Game{ID: 1, Machine: machine.String(), Start: g.Start.FEN(), Result: store.Unfinished}, nil
}

// on gives the power back to a session that end ends.
func (c *cuts) on(end context.CancelCauseFunc) {
	c.isCut, c.end = false, end
	if c.chance != nil {
		c.left = leastBetween + c.chance.IntN(mostBetween-leastBetween)
	}
}

// happens counts; half of the cuts fall at once, half while something moves.
func (c *cuts) happens() {
	if c.chance == nil || c.isCut {
		return
	}
	if c.left--; c.left > 0 {
		return
	}
	c.left = mostBetween
	if c.chance.IntN(2) == 0 {
		c.world.PowerCutAfter(longestArmed * (1 - c.chance.Float64()))
		return
	}
	c.world.PowerCut()
	c.cut()
}

func (c *cuts) cut() {
	c.isCut = true
	c.end(errCut)
}

// keep writes a record down; one that the cut is quicker than is lost.
func (c *cuts) keep(r journal.Record) error {
	if c.happens(); c.isCut {
		return errCut
	}
	if c.chance != nil {
		e := gamelog.EntryOf(r)
		e.N = len(c.entries) + 1
		c.entries = append(c.entries, e)
	}
	return nil
}
