// SPDX-License-Identifier: Apache-2.0

// Package twin is a machine, a room and a guest made of arithmetic: pieces that
// are discs with mass, friction and magnets, axes with play and motor limits,
// a lamp, a camera and a person who moves pieces by hand.
//
// It is a world with consequences, not an oracle. Whoever plays on it gets
// what hardware would give: pictures, axis replies and a guest's answers. What
// is truly where is told by Truth alone, which is for counting and for tests.
//
// World time passes only while something moves, when a picture is taken and
// when the guest is asked; the same seed and the same calls give the same
// world, to the last bit.
package twin

import (
	"context"
	"math/rand/v2"
	"sync"
	"sync/atomic"
	"time"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/photo"
	"boardhand/internal/rig"
	"boardhand/internal/twin/lens"
	"boardhand/internal/twin/mechanics"
	"boardhand/internal/twin/person"
	"boardhand/internal/twin/physics"
)

// Options say what kind of evening it is.
type Options struct {
	Seed        int64         // of everything that is left to chance
	Deviations  *Deviations   // how the machine differs from its rig file; nil: drawn from the seed
	Faults      []Fault       // what goes wrong
	Pace        float64       // world seconds in a real second; 0: as fast as it computes
	AllPictures bool          // whoever looks while the carriage moves sees every picture, not only those of a hand
	Visitor     bool          // the pieces are moved by a Visitor; the built-in guest never moves on its own
	FEN         string        // the position set up; "": the start of a game
	Beside      []Aside       // pieces in the tray besides
	Pieces      []chess.Piece // the pieces on the 64 squares where they differ from FEN: a set-up broken off; nil: as FEN
	// Keep is a file in which the world is kept as it truly stands, so that a
	// program that is killed and started again finds the same table. When the
	// file is there, the world is what it says; FEN is then only the game as the
	// guest hears of it, and Seed, Deviations, Beside and Pieces are not looked at.
	Keep string
}

// Aside is a piece that stands in the tray, or lies in the guest's keeping.
type Aside struct {
	Piece chess.Piece
	At    *frame.Spot[frame.Board] // nil: the guest has it
}

// World is the simulated table.
type World struct {
	mu         sync.Mutex
	rig        *rig.Rig
	opts       Options
	deviations Deviations
	faults     faultSet

	now      float64 // world time, s
	chance   *rand.Rand
	sources  map[uint64]*rand.PCG // of the streams of chance
	unkept   error                // why the world could not be kept
	power    power
	table    *physics.Table
	ills     map[*physics.Piece]Fault // of the pieces whose magnets are wrong
	carriage *mechanics.Carriage
	count    Counters
	homed    bool
	acted    map[Fault]int           // how often each fault has acted
	left     map[*physics.Piece]bool // by a lift that stays down, where they stood

	halted atomic.Bool
	held   atomic.Bool // strokes stand on their way
	moving atomic.Bool // a stroke or the lift is under way: time is theirs
	studio *lens.Studio
	sheet  *lens.Sheet // that a visitor holds before the camera

	onlooker   onlooker
	isTouching bool // the hand touches the piece that the magnet holds
	person     *person.Person
}

// onlooker is shown pictures while the carriage moves.
type onlooker struct {
	look  func(context.Context, photo.Picture, error)
	until float64 // world time of the next picture; of a Glimpse: of the last one
	busy  bool    // a hand was out when the last picture was due
}

// Streams of chance: one for each part, so that a change in one does not
// disturb the others.
const (
	streamBuild = iota + 1
	streamWorld
	streamGuest
	streamCamera
	streamPower
	streamFaults = 100 // and one more for each fault
)

func (w *World) stream(part uint64) *rand.Rand {
	w.sources[part] = rand.NewPCG(uint64(w.opts.Seed), part)
	return rand.New(w.sources[part])
}

// sleep lets real time pass for dt of world time, when somebody watches.
func (w *World) sleep(ctx context.Context, dt float64) error {
	if w.opts.Pace <= 0 {
		return ctx.Err()
	}
	t := time.NewTimer(time.Duration(dt / w.opts.Pace * float64(time.Second)))
	defer t.Stop()
	select {
	case <-ctx.Done():
		return ctx.Err()
	case <-t.C:
		return nil
	}
}
