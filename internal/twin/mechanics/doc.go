// SPDX-License-Identifier: Apache-2.0

// Package mechanics is the twin's machine under the board: what its axes,
// motors and lift make of what they are told. A Run turns a stroke into places,
// step by step, as a controller does; a Carriage follows them as far as its
// motors' force allows, with play, lost steps, a frame out of true and a lift
// that catches.
//
// It knows no pieces: what they put on the magnet comes in as a force. Machine
// and Board frames, SI units. Chance comes in as streams.
package mechanics
