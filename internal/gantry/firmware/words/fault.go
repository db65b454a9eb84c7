// SPDX-License-Identifier: Apache-2.0

package words

import "fmt"

// Fault is the number of an error reply (repository gnea/grbl, doc/csv).
type Fault int

// The faults of lines.
const (
	LetterExpected   Fault = 1
	BadNumber        Fault = 2
	UnknownSetting   Fault = 3
	Negative         Fault = 4
	HomingOff        Fault = 5
	ShortPulse       Fault = 6
	NotIdle          Fault = 8
	Locked           Fault = 9
	NoSoftLimits     Fault = 10 // they need homing
	LineTooLong      Fault = 11
	JogBeyondTravel  Fault = 15
	BadJog           Fault = 16
	Unsupported      Fault = 20
	GroupTwice       Fault = 21
	NoFeed           Fault = 22
	NotInteger       Fault = 23
	TwoAxisUsers     Fault = 24
	WordTwice        Fault = 25
	NoAxisWords      Fault = 26
	BadLineNumber    Fault = 27
	ValueMissing     Fault = 28
	OnlyStraight     Fault = 30 // G53 needs G0 or G1
	UnusedAxisWords  Fault = 31
	NoArcAxes        Fault = 32
	BadTarget        Fault = 33
	BadRadius        Fault = 34
	NoArcOffsets     Fault = 35
	UnusedValueWords Fault = 36
)

// Error is the reply as the firmware sends it.
func (f Fault) Error() string { return fmt.Sprintf("error:%d", int(f)) }
