// SPDX-License-Identifier: Apache-2.0

// Package journal holds what is kept of a game at a table: its states, what
// happened, what people asked for, and tasks that outlive a break, as fields.
package journal

import (
	"cmp"
	"fmt"
	"strings"

	"boardhand/internal/chess"
	"boardhand/internal/diagnosis"
	"boardhand/internal/table/places"
)

// Who makes a move.
const (
	ByGuest   = "guest"
	ByMachine = "machine"
)

// Record is one line of the log: what happened, in fields. Prose makes a
// sentence of them for people; no program reads that back.
type Record struct {
	State State
	What  Happening

	Move    chess.Move // when this record finishes a move
	Decided chess.Move // when the machine has chosen a move
	Back    chess.Move // when this record takes a move back
	SAN     string     // of that move
	By      string     // ByGuest or ByMachine, with Move
	Belief  float64    // with a move that was read

	Piece    chess.Piece    // the piece it is about
	From, To places.Place   // of that piece
	Squares  []chess.Square // that differ
	Said     string         // a sentence: told, asked, or what went wrong
	Choices  []string       // of a question
	Choice   int            // the answer
	Cause    string         // the part to look at, by its name
	Origin   string         // of the piece that the cause concerns
	Axis     string         // that the cause concerns
	FEN      string         // the position that was agreed
	Strength string         // how strongly the machine plays

	Task     string // when a task begins, gets on or ends: see Task
	Standing string // where the pieces are, when one beside the board has changed
	JPEG     []byte // the picture that the record rests on, if any
	Slots    int    // of the tray, for the slots' names

	Symptoms Symptoms // since the last record
}

// Symptoms are what was seen of the machine's acts, for the diagnosis; the oldest first.
type Symptoms = []diagnosis.Symptom

// Prose is the record in words, for people.
func (r Record) Prose() string {
	if say, ok := prose[r.What]; ok {
		return say(r)
	}
	return strings.ReplaceAll(string(r.What), "_", " ")
}

// prose words each happening.
var prose = map[Happening]func(Record) string{
	TableSet:      plain("the table is set"),
	Homed:         plain("homed"),
	PositionSeen:  plain("the board shows the position"),
	PositionOdd:   func(r Record) string { return "the board does not show the position: " + places.List(r.Squares) },
	GuestToMove:   plain("the guest is to move"),
	MachineToMove: plain("the machine is to move"),
	ChangeSeen:    plain("something has moved"),
	NothingPlayed: plain("nothing was played"),
	GuestMoved:    func(r Record) string { return fmt.Sprintf("guest: %s (belief %.2f %%)", r.SAN, 100*r.Belief) },
	GuestNamed:    func(r Record) string { return "guest: " + r.SAN + " (named by a person)" },
	Agreed:        func(r Record) string { return "the position was agreed: " + r.FEN },
	Chosen:        func(r Record) string { return "decided: " + r.SAN },
	PlayerChanged: said,
	StrengthSet:   func(r Record) string { return "the machine plays in " + r.Strength + " from its next move on" },
	CarryBegun: func(r Record) string {
		return fmt.Sprintf("carrying the %v from %s to %s", r.Piece, r.at(r.From), r.at(r.To))
	},
	CarryEnded: func(r Record) string {
		return fmt.Sprintf("the %v was carried to %s; nobody can see it there", r.Piece, r.at(r.To))
	},
	CarrySeen:    func(r Record) string { return fmt.Sprintf("the %v is seen at %s", r.Piece, r.at(r.To)) },
	CarryLost:    func(r Record) string { return fmt.Sprintf("the %v is not at %s", r.Piece, r.at(r.To)) },
	Carried:      plain("carried; looking whether it arrived"),
	NotFollowed:  func(r Record) string { return fmt.Sprintf("the %v did not come along; once more", r.Piece) },
	Fetched:      func(r Record) string { return fmt.Sprintf("the %v slipped; fetching it", r.Piece) },
	Adjusted:     func(r Record) string { return fmt.Sprintf("the %v stood off centre; adjusted", r.Piece) },
	MachineMoved: func(r Record) string { return "machine: " + r.SAN },
	Requested:    said,
	RequestDone:  plain("done; going on"),
	RequestTrust: plain("a person says that it is done"),
	Told:         said,
	Questioned:   func(r Record) string { return r.Said + " " + strings.Join(r.Choices, " / ") },
	Answered:     answered,
	BackWanted:   func(r Record) string { return "to be taken back: " + r.Task },
	TakenBack:    func(r Record) string { return "taken back: " + r.SAN },
	SetUpWanted:  plain("to be set up for the next game"),
	SetUpDone:    plain("the pieces stand where the next game begins"),
	Replanned:    plain("measured again and planned anew"),
	HandSeen:     func(r Record) string { return "a hand over " + places.List(r.Squares) + "; the carriage waits" },
	CarryPutOff:  plain("something stays in the way; looking and planning anew"),
	Failed:       said,
	Suspected:    said,
	CameraSilent: said,
	CameraBack:   plain("the camera shows the board again"),
	PictureLost:  said,
	Stopped:      plain("stopped by hand"),
	Resumed:      plain("a person lets it go on"),
	Hinted:       said,
	DrawOffered:  plain("the guest offers a draw"),
	DrawRefused:  plain("the machine plays on"),
	Added:        func(r Record) string { return cmp.Or(r.SAN, r.Said) },
	GameEnded:    said,
}

func plain(text string) func(Record) string { return func(Record) string { return text } }

func said(r Record) string { return r.Said }

func answered(r Record) string {
	if r.Choice >= 0 && r.Choice < len(r.Choices) {
		return "answer: " + r.Choices[r.Choice]
	}
	return "no answer"
}

// at names a place.
func (r Record) at(p places.Place) string { return p.Words(r.Slots) }
