// SPDX-License-Identifier: Apache-2.0

package search

import (
	"fmt"

	"boardhand/internal/chess"
)

// bound says what a remembered score is.
type bound uint8

const (
	atMost bound = iota + 1
	atLeast
	exact
)

// memo is what is remembered of one position: 16 bytes.
type memo struct {
	key   uint64
	move  chess.Move
	score int16
	depth int8
	bound bound
	age   uint16 // the search that wrote it
}

// memory remembers positions already searched (a transposition table): four
// places a key, the least useful one is given up.
type memory struct {
	places []([4]memo)
	mask   uint64
	age    uint16
	fresh  bool // what earlier searches wrote does not count
}

// CheckMemory says what is wrong with a size of a player's memory.
func CheckMemory(megabytes int) error {
	if megabytes < smallestMemory || megabytes > largestMemory {
		return fmt.Errorf("the player's memory must be %d to %d MB; got %d", smallestMemory, largestMemory, megabytes)
	}
	return nil
}

// newMemory makes a memory of at most the given megabytes.
func newMemory(megabytes int) (*memory, error) {
	if err := CheckMemory(megabytes); err != nil {
		return nil, err
	}
	n := uint64(1)
	for n*2*64 <= uint64(megabytes)<<20 {
		n *= 2
	}
	return memoryOf(n), nil
}

// memoryOf makes a memory of n places, a power of two.
func memoryOf(n uint64) *memory {
	return &memory{places: make([][4]memo, n), mask: n - 1, age: 1}
}

// begin starts a new search. With fresh, it sees nothing of earlier ones, so
// that it depends on nothing but its own input.
func (t *memory) begin(fresh bool) {
	t.fresh = fresh
	if t.age++; t.age == 0 { // all ages used: begin again
		clear(t.places)
		t.age = 1
	}
}

// find returns what is remembered of a key.
func (t *memory) find(key uint64) (memo, bool) {
	place := &t.places[key&t.mask]
	for i := range place {
		if m := &place[i]; m.key == key && m.age != 0 && (!t.fresh || m.age == t.age) {
			return *m, true
		}
	}
	return memo{}, false
}

// keep remembers a result, in the place of the same key, else of the
// shallowest, where results of earlier searches count as shallow.
func (t *memory) keep(m memo) {
	m.age = t.age
	place := &t.places[m.key&t.mask]
	worst, least := 0, 1<<30
	for i := range place {
		old := &place[i]
		if old.key == m.key && old.age == t.age {
			if m.bound != exact && int(m.depth)+3 < int(old.depth) {
				return
			}
			if m.move == 0 {
				m.move = old.move
			}
			worst = i
			break
		}
		worth := int(old.depth)
		if old.age != t.age {
			worth -= 1000
		}
		if worth < least {
			worst, least = i, worth
		}
	}
	place[worst] = m
}

// toMemory and fromMemory change a mate score between "plies from the root" and
// "plies from this position".
func toMemory(score, ply int) int16 {
	switch {
	case score >= longestMate:
		score += ply
	case score <= -longestMate:
		score -= ply
	}
	return int16(score)
}

func fromMemory(stored int16, ply int) int {
	score := int(stored)
	switch {
	case score >= longestMate:
		score -= ply
	case score <= -longestMate:
		score += ply
	}
	return score
}
