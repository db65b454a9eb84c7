// SPDX-License-Identifier: Apache-2.0

package journal

import "slices"

// State is what the game at the table is doing.
type State string

// The states.
const (
	Setting   State = "setting"   // homing, and looking whether the board shows the position
	Guesting  State = "guest"     // the guest is to move
	Reading   State = "reading"   // something has moved; working out what
	Thinking  State = "thinking"  // choosing the answer
	Removal   State = "removal"   // asking the guest to take or put a piece
	Carrying  State = "carrying"  // the carriage is at work
	Verifying State = "verifying" // looking whether the piece arrived
	Undoing   State = "undoing"   // taking moves back
	Arranging State = "arranging" // setting the pieces up for the next game
	Trouble   State = "trouble"   // a part of the machine failed, or a person stopped it
	Over      State = "over"      // the game has ended
)

// Turn is one step of the state machine: why the table goes to a state.
type Turn struct {
	To  State
	Rec Record
}

// TurnTo makes a turn.
func TurnTo(s State, what Happening) Turn { return Turn{To: s, Rec: Record{What: what}} }

// Rule is one row of the state table.
type Rule struct {
	On Happening
	To State
}

// Rules is the state machine: what may happen in each state, and which state
// comes next. A person's ways on are in WaysOn.
var Rules = map[State][]Rule{
	Setting: {
		{PositionSeen, Guesting}, {PositionSeen, Thinking}, {PositionSeen, Verifying}, {PositionSeen, Over}, {ChangeSeen, Reading}, {PositionOdd, Verifying},
		{BackWanted, Undoing}, {SetUpWanted, Arranging}, {Requested, Removal}, {CarryPutOff, Setting},
	},
	Guesting: {{ChangeSeen, Reading}, {Requested, Removal}},
	Reading: {
		{GuestToMove, Guesting}, {MachineToMove, Thinking}, {GameEnded, Over}, {NothingPlayed, Guesting},
	},
	Thinking:  {{Chosen, Carrying}},
	Carrying:  {{Requested, Removal}, {Carried, Verifying}},
	Removal:   {{RequestDone, Carrying}, {RequestDone, Undoing}, {RequestDone, Arranging}, {RequestDone, Verifying}, {RequestDone, Thinking}, {RequestDone, Guesting}, {RequestDone, Reading}, {RequestDone, Setting}},
	Verifying: {{GuestToMove, Guesting}, {MachineToMove, Thinking}, {GameEnded, Over}, {NotFollowed, Carrying}, {Fetched, Verifying}, {Adjusted, Verifying}, {Requested, Removal}, {Replanned, Carrying}},
	Undoing:   {{CarryPutOff, Undoing}, {GuestToMove, Guesting}, {MachineToMove, Thinking}, {GameEnded, Over}, {Requested, Removal}},
	Arranging: {{CarryPutOff, Arranging}, {SetUpDone, Over}, {Requested, Removal}},
	Trouble:   {{Homed, Verifying}, {Homed, Guesting}, {Homed, Thinking}, {Homed, Undoing}, {Homed, Arranging}, {Homed, Over}, {Failed, Trouble}, {Resumed, Thinking}},
	Over:      {{BackWanted, Undoing}, {SetUpWanted, Arranging}},
}

// Everywhere are the rules of every state of a game that goes on: a part may
// fail, a person may stop the machine or end the game.
var Everywhere = []Rule{
	{Failed, Trouble}, {Stopped, Trouble}, {CarryPutOff, Verifying}, {GameEnded, Over}, {SetUpWanted, Arranging}, {BackWanted, Undoing}, {Agreed, Guesting}, {Agreed, Thinking}, {Agreed, Over},
	{NothingPlayed, Guesting}, {GuestToMove, Guesting}, {MachineToMove, Thinking},
}

// WaysOn lists what a person may ask for in each state.
var WaysOn = map[State][]RequestKind{
	Setting:   {RequestRight, RequestPlayed, RequestPosition, RequestAfresh, RequestResign, RequestNew, RequestStrength},
	Guesting:  {RequestBack, RequestPlayed, RequestPosition, RequestAfresh, RequestHint, RequestResign, RequestDraw, RequestNew, RequestStrength},
	Reading:   {RequestRight, RequestPlayed, RequestPosition, RequestBack, RequestAfresh, RequestResign, RequestDraw, RequestNew, RequestStrength},
	Thinking:  {RequestBack, RequestResign, RequestDraw, RequestNew, RequestStrength},
	Carrying:  {RequestBack, RequestResign, RequestDraw, RequestNew, RequestStrength},
	Removal:   {RequestRight, RequestAfresh, RequestBack, RequestResign, RequestDraw, RequestNew, RequestStrength},
	Verifying: {RequestRight, RequestPosition, RequestAfresh, RequestBack, RequestResign, RequestDraw, RequestNew, RequestStrength},
	Undoing:   {RequestRight, RequestAfresh, RequestResign, RequestNew, RequestStrength},
	Arranging: {RequestRight, RequestAfresh, RequestStrength},
	Trouble:   {RequestResume},
	Over:      {RequestBack, RequestNew, RequestStrength},
}

// IsListed says whether the state table has a transition.
func IsListed(from State, turn Turn) bool {
	r := Rule{turn.Rec.What, turn.To}
	return slices.Contains(Rules[from], r) || from != Over && slices.Contains(Everywhere, r)
}
