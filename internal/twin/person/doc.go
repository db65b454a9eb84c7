// SPDX-License-Identifier: Apache-2.0

// Package person is who sits opposite the twin's machine: a guest who knows the
// rules, thinks, hears what is asked, says what is wrong and moves pieces by
// hand, or a visitor's hand that does what somebody at a screen tells it. What
// they are about to do is a script of beats, each a way of the hand and what is
// true after it.
//
// A person acts on the table through its pieces alone; of the rest of the world
// they need the clock. Board frame, metres and seconds. Chance comes in as
// streams.
package person
