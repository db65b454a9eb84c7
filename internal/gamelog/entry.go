// SPDX-License-Identifier: Apache-2.0

package gamelog

import (
	"encoding/json"

	"boardhand/internal/chess"
	"boardhand/internal/diagnosis"
	"boardhand/internal/store"
	"boardhand/internal/table/journal"
)

// detail is what belongs to an event, as the log keeps it.
type detail struct {
	By      string   `json:"by,omitempty"`  // "guest" or "machine"
	SAN     string   `json:"san,omitempty"` // of the move
	Belief  float64  `json:"belief,omitempty"`
	Piece   string   `json:"piece,omitempty"` // "white rook"
	From    string   `json:"from,omitempty"`  // a square or a place beside the board
	To      string   `json:"to,omitempty"`
	Squares []string `json:"squares,omitempty"` // that differ
	Said    string   `json:"said,omitempty"`    // to the people at the table
	Choices []string `json:"choices,omitempty"`
	Choice  *int     `json:"choice,omitempty"` // from 0; -1: no answer
	Cause   string   `json:"cause,omitempty"`  // the part to look at
	Origin  string   `json:"origin,omitempty"`
	Axis    string   `json:"axis,omitempty"`
	FEN     string   `json:"fen,omitempty"`

	Strength string `json:"strength,omitempty"` // how strongly the machine plays

	Tags []chess.Tag `json:"tags,omitempty"` // of the PGN file that the game was added from

	Symptoms []diagnosis.Symptom `json:"symptoms,omitempty"` // of the machine's acts since the entry before
}

// carries are the happenings that are about one piece and its way.
var carries = map[journal.Happening]bool{
	journal.CarryBegun: true, journal.CarryEnded: true, journal.CarrySeen: true, journal.CarryLost: true,
	journal.NotFollowed: true, journal.Fetched: true, journal.Adjusted: true,
}

// detailOf are the typed fields of a record as JSON; "" when it has none.
func detailOf(r journal.Record) string {
	d := detail{By: r.By, SAN: r.SAN, Belief: r.Belief, Squares: chess.SquareNames(r.Squares), Said: r.Said,
		Choices: r.Choices, Cause: r.Cause, Origin: r.Origin, Axis: r.Axis, FEN: r.FEN, Strength: r.Strength, Symptoms: r.Symptoms}
	if carries[r.What] {
		d.Piece, d.From, d.To = r.Piece.String(), r.From.String(), r.To.String()
	}
	if r.What == journal.Answered {
		d.Choice = &r.Choice
	}
	text, err := json.Marshal(d)
	if err != nil || string(text) == "{}" {
		return ""
	}
	return string(text)
}

// EntryOf is a record as the store keeps it; the time is the caller's.
func EntryOf(r journal.Record) store.Entry {
	e := store.Entry{State: string(r.State), Note: r.Prose(), Event: string(r.What), Detail: detailOf(r), Task: r.Task, Standing: r.Standing}
	if r.Back != 0 {
		e.Back = r.Back.String()
	}
	if r.Move != 0 {
		e.Move = r.Move.String()
	}
	if r.Decided != 0 {
		e.Decided = r.Decided.String()
	}
	return e
}
