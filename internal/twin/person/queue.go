// SPDX-License-Identifier: Apache-2.0

package person

import (
	"boardhand/internal/chess"
)

// queue is what a visitor still has to do, one act after the other.
type queue struct {
	acts   []func()
	leaves *[64]chess.Piece // the squares once all is done; nil: as they are
}

// expected is who will stand on the squares when the hand has done all it was
// told to do.
func (p *doer) expected() *[64]chess.Piece {
	if p.queue.leaves == nil {
		p.queue.leaves = new([64]chess.Piece)
		for s := range p.queue.leaves {
			if b := p.find(chess.Square(s)); b != nil {
				p.queue.leaves[s] = b.Piece
			}
		}
	}
	return p.queue.leaves
}

// enqueue has the hand do something when it has done everything before.
func (p *doer) enqueue(act func()) {
	p.queue.acts = append(p.queue.acts, act)
	p.proceed()
}

// proceed begins the next act when the hand is free.
func (p *doer) proceed() {
	for len(p.script.beats) == 0 && len(p.queue.acts) > 0 {
		act := p.queue.acts[0]
		p.queue.acts = p.queue.acts[1:]
		act()
	}
	if len(p.script.beats) == 0 {
		p.queue.leaves = nil
	}
}

// IsBusy says whether the hand has something to do.
func (p *doer) IsBusy() bool { return len(p.script.beats) > 0 || len(p.queue.acts) > 0 }
