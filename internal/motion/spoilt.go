// SPDX-License-Identifier: Apache-2.0

package motion

// Spoilt says that a motion did not go as it was told, and that its driver saw why: what it
// told the controller, or heard of it, got lost, came late or changed on the wire. The axes
// and what they carry are not to blame. What became of the motion is in Err; a Lag there has
// reached its end.
type Spoilt struct{ Err error }

// Error is what happened.
func (s *Spoilt) Error() string { return s.Err.Error() }

// Unwrap is what became of the motion.
func (s *Spoilt) Unwrap() error { return s.Err }
