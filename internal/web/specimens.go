// SPDX-License-Identifier: Apache-2.0

package web

import (
	"strconv"
	"time"
)

// specimen is one state of the pages with canned data.
type specimen struct {
	name   string
	events []Event
}

const (
	specimenStart = "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1"
	specimenMid   = "r1bqkbnr/pppp1ppp/2n5/4p3/2B1P3/5N2/PPPP1PPP/RNBQK2R b KQkq - 3 3"
	specimenTook  = "r1bqkb1r/pppp1ppp/2n2n2/4N3/2B1P3/8/PPPP1PPP/RNBQK2R b KQkq - 0 4"
	specimenLate  = "8/P4k2/8/2p5/8/1P4K1/8/8 w - - 0 51"
	specimenMate  = "r1bqkb1r/pppp1Qpp/2n2n2/4p3/2B1P3/8/PPPP1PPP/RNB1K1NR b KQkq - 0 4"
)

// specimens are all states, in the order of a game.
func specimens() []specimen {
	return []specimen{
		{"nothing-yet", nil},
		{"starting", specimenOf(specimenStart, Event{State: Starting, Sentence: "One moment: I am finding my axes and looking at the board."})},
		{"first-move", specimenOf(specimenStart, Event{State: Guest, Sentence: "It is your move; you play White."})},
		{"hint", specimenOf(specimenStart, Event{State: Guest, Sentence: "I would play knight from g1 to f3. Your move.", Hint: []string{"g1", "f3"},
			Strength: &Strength{Now: "pencil", Ladder: specimenLadder()}, Offers: append(specimenOffers(), Offer{Request{For: ForHint}, "A hint"}, Offer{Request{For: ForStrength}, ""})})},
		{"at-the-board", specimenOf(specimenMid, Event{State: Guest, Visitor: &Visitor{Side: "white", Why: "You are watching: the guest is simulated. To play yourself, start: boardhand play --visitor"}, Sentence: "I played knight from b8 to c6. Your move.", LastMove: "b8c6"})},
		{"guest-black", specimenOf(specimenMid, Event{State: Guest, Visitor: &Visitor{Plays: true, Side: "black"}, Sentence: "I played bishop from f1 to c4. Your move.", LastMove: "f1c4"})},
		{"hand", specimenOf(specimenMid, Event{State: Reading, Sentence: "I played knight from b8 to c6. Your move.", Reading: &Read{State: "hand", Belief: 0.998}})},
		{"thinking", specimenOf(specimenMid, Event{State: Thinking, Sentence: "I am thinking.", LastMove: "f1c4",
			Reading: &Read{State: "move", Move: "f1c4", SAN: "Bc4", Belief: 0.99994, Squares: []string{"f1", "c4"}, Candidates: []Candidate{{"f1c4", "Bc4", 0.99994}, {"f1b5", "Bb5", 0.00004}, {"", "", 0.00002}}}})},
		{"carrying", specimenCarrying()},
		{"removal", specimenOf(specimenTook, Event{State: Removal, Sentence: "Please take the white knight off e5.", LastMove: "f3e5", Wanted: []Asked{{"e5", Off, "N"}}})},
		{"taking-back", specimenOf(specimenMid, Event{State: Undoing, Sentence: "Please move the white bishop from c4 to f1.", LastMove: "f1c4",
			Wanted: []Asked{{"c4", "f1", "B"}}})},
		{"in-the-tray", specimenOf(specimenTook, specimenTray()...)},
		{"setting-up", specimenOf(specimenMate, Event{State: Arranging, Sentence: "I set the pieces up for the next game. Hands off, please."})},
		{"verifying", specimenOf(specimenMid, Event{State: Verifying, Sentence: "I play knight from g8 to f6. Hands off, please.", LastMove: "f1c4", Carriage: &Carriage{X: 48, Y: 48}})},
		{"half-done", specimenOf(specimenMid, Event{State: Guest, Sentence: "You are castling: now put the rook from h1 on f1.",
			Pieces: specimenShift(strew(piecesOf(specimenMid, nil, specimenMachine().Square)), "e1", "g1"), Phantoms: []Phantom{{"K", "e1"}}, Wanted: []Asked{{"h1", "f1", "R"}},
			Reading: &Read{State: "partial", Belief: 0.97, Squares: []string{"e1", "g1"}}})},
		{"illegal", specimenOf(specimenMid, Event{State: Guest, Sentence: "That is not a legal move. Please put the white bishop back on c4, or play another move.",
			Pieces: specimenStray(), Phantoms: []Phantom{{"B", "c4"}}, Offers: []Offer{{Request{For: ForArrange}, "Put it back for me"}},
			Reading: &Read{State: "illegal", Belief: 0.996, Squares: []string{"c4", "f5"}}})},
		{"question", specimenOf(specimenMid, Event{State: Reading, Sentence: "It is your move; you play White.",
			Question: &Question{Text: "I am not sure what was played. Which is it?", Choices: []string{"queen d1 to e2", "queen d1 to f3", "nothing yet", "none of these"}, Moves: []string{"d1e2", "d1f3", "", ""}},
			Reading:  &Read{State: "unsure", Belief: 0.52, Squares: []string{"d1", "e2"}, Candidates: []Candidate{{"d1e2", "Qe2", 0.52}, {"d1f3", "Qf3", 0.41}, {"", "", 0.07}}}})},
		{"trouble", specimenOf(specimenMid, Event{State: Trouble, Sentence: "My knight slipped: please put it on f6.", Wanted: []Asked{{"g8", "f6", "n"}},
			Question: &Question{Text: "Does it stand on f6 now?", Choices: []string{"yes, it does", "end the game here"}},
			Log:      []Line{{Kind: Warn, Text: "Slip: knight g8–f6 lost 21 mm from its square; second try failed as well"}}})},
		{"halted", specimenOf(specimenMid, Event{State: Carrying, Halted: yes(), Sentence: "The machine was stopped by hand. When all is clear, press Resume.", Offers: []Offer{{Request{For: ForResume}, "Resume"}}, Carriage: &Carriage{X: 64, Y: 96, Raised: true}})},
		{"promotion", specimenOf(specimenLate, Event{State: Guest, Sentence: "Your pawn has reached a8: exchange it for the piece it becomes."}, Event{Pieces: specimenPromoted()})},
		{"over", specimenOf(specimenMate, Event{State: Over, Sentence: "The game is over: you win by checkmate. Well played.", Result: "1-0", LastMove: "h5f7"})},
	}
}

func yes() *bool { b := true; return &b }

// specimenOf is the canned machine with a position and then what is special.
func specimenOf(fen string, then ...Event) []Event {
	base := Event{
		FEN: fen, Visitor: &Visitor{Plays: true, Side: "white"}, Machine: specimenMachine(),
		Camera: &Camera{X: 6, Y: -22, Z: 600}, Carriage: &Carriage{X: -16, Y: 122},
		Moves: []string{"e4", "e5", "Nf3", "Nc6", "Bc4"},
	}
	if fen == specimenStart {
		base.Moves = []string{}
	}
	noon := time.Date(2026, 3, 14, 12, 0, 0, 0, time.UTC)
	for i, text := range []string{"Axes homed, x and y within 0.1 mm of the last time", "Camera: 81 of 81 corners, rms 0.31 px", "state: starting → guest"} {
		base.Log = append(base.Log, Line{At: noon.Add(time.Duration(i) * 1900 * time.Millisecond), Text: text})
	}
	base.Pieces = strew(piecesOf(fen, nil, base.Machine.Square))
	base.Pieces = append(base.Pieces, Piece{ID: "t1", Piece: "p"}, Piece{ID: "t2", Piece: "n"}, Piece{ID: "t3", Piece: "P"})
	base.View, base.JPEG = specimenPicture(base)
	base.Hands = yes()
	for i := range then {
		switch then[i].State {
		case Starting, Thinking, Carrying, Verifying, Arranging, Over:
			base.Hands = new(bool)
		}
	}
	return append([]Event{base}, then...)
}

// strew moves the pieces a little off their centres, always the same way.
func strew(pieces []Piece) []Piece {
	for i := range pieces {
		pieces[i].X += float64((i*37)%11-5) * 0.4
		pieces[i].Y += float64((i*53)%11-5) * 0.35
		pieces[i].Sigma = 0.2
	}
	return pieces
}

func specimenMachine() *Machine {
	return &Machine{
		Name: "Canned specimen", Square: 32, Border: 15,
		Shapes: map[string]Shape{"K": {15, 52}, "Q": {15, 46}, "B": {14, 38}, "N": {14, 34}, "R": {14, 30}, "P": {12.5, 27}},
		Reach:  []Place{{-128, -118}, {128, 132}},
		Rows:   []Row{{"Square", "32 mm"}, {"Board", "4 mm, warp ± 0.4"}, {"Drive magnet", "⌀10 × 5 N42"}, {"Foot magnet", "⌀6 × 2 N42"}, {"Gap", "4.9 mm"}, {"Axes", "rack, 120 mm/s"}},
	}
}

// specimenCarrying shows routes with clearances and a slow motion.
func specimenCarrying() []Event {
	way := []Place{{80, 112}, {80, 96}, {64, 96}, {64, 48}, {48, 48}}
	return specimenOf(specimenMid, Event{
		State: Carrying, Sentence: "I play knight from g8 to f6. Hands off, please.", LastMove: "f1c4",
		Reading: &Read{State: "move", Move: "f1c4", SAN: "Bc4", Belief: 0.99994, Candidates: []Candidate{{"f1c4", "Bc4", 0.99994}, {"f1b5", "Bb5", 0.00004}}},
		Lanes: []Lane{
			{Do: "travel", Path: []Place{{-16, 122}, {80, 112}}, Done: true},
			{Do: "carry", Path: way, Clearances: []Clearance{
				{From: Place{71, 80}, To: Place{73.8, 80}, Free: 2.8, Tight: true}, {From: Place{57, 80}, To: Place{53.6, 80}, Free: 3.4}}},
		},
		Running: []Span{{"g8", "f6"}},
		Log:     []Line{{Kind: Change, Text: "state: thinking → carrying"}, {Text: "Plan: 5 steps, 6.2 s, checked"}},
	}, Event{Motion: &Motion{Path: way, Duration: 14, Carrying: "g8", Raised: true}})
}

// specimenTray has slots beside the board, with two pieces in them, and something
// to wish for.
func specimenTray() []Event {
	m := specimenMachine()
	m.Border = 60
	for k, x := range []float64{-168, 168} {
		for i := range 8 {
			m.Slots = append(m.Slots, Slot{Name: string("LR"[k]) + strconv.Itoa(i+1), At: Place{x, float64(i)*32 - 112}})
		}
	}
	pieces := append(piecesOf(specimenTook, nil, m.Square), Piece{ID: "s1", Piece: "p", Slot: "R2", X: 168, Y: -80}, Piece{ID: "s2", Piece: "N", Slot: "L5", X: -168, Y: 16})
	return []Event{{Machine: m, Pieces: pieces, State: Guest, Sentence: "I played knight from f6 takes the pawn on e4. Your move. If you take a piece of mine, stand it in slot R3.",
		Offers: specimenOffers(), Legal: []Legal{{"f6e4", "Nxe4", "n"}, {"c6e5", "Nxe5", "n"}, {"d8e7", "Qe7", "q"}, {"d7d6", "d6", "p"}, {"d7d5", "d5", "p"}}}}
}

// specimenStray has the bishop of c4 on f5.
func specimenStray() []Piece {
	return specimenShift(strew(piecesOf(specimenMid, nil, specimenMachine().Square)), "c4", "f5")
}

func specimenPromoted() []Piece {
	return specimenShift(piecesOf(specimenLate, nil, specimenMachine().Square), "a7", "a8")
}

func specimenShift(pieces []Piece, from, to string) []Piece {
	for i := range pieces {
		if pieces[i].Square == from {
			pieces[i] = standOn(to, pieces[i], specimenMachine().Square)
		}
	}
	return pieces
}

func specimenLadder() (out []Rung) {
	for _, name := range []string{"chalk", "charcoal", "crayon", "pencil", "quill", "pen", "needle"} {
		out = append(out, Rung{name, "somebody"})
	}
	return out
}

func specimenOffers() []Offer {
	return []Offer{{Request{For: ForBack, Plies: 2}, "Take back my move"}, {Request{For: ForNew}, "New game"},
		{Request{For: ForDraw}, "Offer a draw"}, {Request{For: ForResign}, "Resign"}, {Request{For: ForPlayed}, "Name the move"},
		{Request{For: ForRight}, "It is right as it stands"}, {Request{For: ForPosition}, "We agreed on another position"},
		{Request{For: ForAfresh}, "Look afresh"}}
}
