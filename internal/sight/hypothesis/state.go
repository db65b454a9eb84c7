// SPDX-License-Identifier: Apache-2.0

package hypothesis

// State is what a hypothesis says of a picture.
type State string

// The states of hypotheses.
const (
	Same    State = "same"    // nothing happened, or a piece was set straight
	Moved   State = "move"    // a finished legal move
	Several State = "several" // several finished legal moves, one after the other
	Partial State = "partial" // on the way to a legal move
	Illegal State = "illegal" // differs, and no legal move explains it
)
