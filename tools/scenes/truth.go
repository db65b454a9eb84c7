// SPDX-License-Identifier: Apache-2.0

package main

import "slices"

// truth is one line of truth.jsonl: what a frame shows, told against the
// position after the last finished move.
type truth struct {
	Frame   string                `json:"frame"`
	State   string                `json:"state"` // same, move, hand, partial, illegal
	Move    string                `json:"move"`  // UCI, for move
	FEN     string                `json:"fen"`   // after the frame
	Kind    string                `json:"kind"`  // which phenomenon
	Offsets map[string][2]float64 `json:"offsets"`
	Room    string                `json:"room,omitempty"` // which kind of room
}

// shot is one picture to be taken.
type shot struct {
	truth  truth
	pieces []piece
	extra  []body // hand or shadow
	view   view
	gain   float64      // exposure drift, 1: none
	white  [3]float64   // white-balance drift per channel
	things []body       // put on the board's border
	light  illumination // of a room
}

// body is a hand, a thing or somebody's shadow: povray text, and balls that
// hold it.
type body struct {
	flesh  flesh  // of a hand only
	skin   string // texture of the flesh
	text   string // the rest
	balls  []ball3
	bones  []bone // forearm and sleeve
	unseen bool   // only its shadow is in the picture
}

// object is the povray text.
func (b body) object() string {
	if b.unseen || b.flesh.palm == nil {
		return b.text
	}
	return "object{" + b.flesh.skin() + b.skin + "}\n" + b.text
}

// ball3 is a ball in space, mm, board frame.
type ball3 struct {
	at vec
	r  float64
}

// skeleton is all bones of a hand with its arm.
func (b body) skeleton() []bone {
	return slices.Concat(b.bones, b.flesh.palm, slices.Concat(b.flesh.limbs...))
}
