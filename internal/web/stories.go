package web

import (
	"strconv"
	"time"
)

// story is one state of the pages with canned data.
type story struct {
	name   string
	events []Event
}

const (
	storyStart = "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1"
	storyMid   = "r1bqkbnr/pppp1ppp/2n5/4p3/2B1P3/5N2/PPPP1PPP/RNBQK2R b KQkq - 3 3"
	storyTook  = "r1bqkb1r/pppp1ppp/2n2n2/4N3/2B1P3/8/PPPP1PPP/RNBQK2R b KQkq - 0 4"
	storyLate  = "8/P4k2/8/2p5/8/1P4K1/8/8 w - - 0 51"
	storyMate  = "r1bqkb1r/pppp1Qpp/2n2n2/4p3/2B1P3/8/PPPP1PPP/RNB1K1NR b KQkq - 0 4"
)

// stories are all states, in the order of a game.
func stories() []story {
	return []story{
		{"nothing-yet", nil},
		{"starting", storyOf(storyStart, Event{State: Starting, Sentence: "The machine is finding its zero. Hands off the board, please."})},
		{"first-move", storyOf(storyStart, Event{State: Guest, Sentence: "You have White. Make your first move."})},
		{"at-the-board", storyOf(storyMid, Event{State: Guest, Visitor: &Visitor{Side: "white"}, Sentence: "I played knight b8 to c6. Your move, at the board.", LastMove: "b8c6"})},
		{"guest-black", storyOf(storyMid, Event{State: Guest, Visitor: &Visitor{Plays: true, Side: "black"}, Sentence: "I played bishop f1 to c4. Your move.", LastMove: "f1c4"})},
		{"hand", storyOf(storyMid, Event{State: Reading, Sentence: "I see your hand. Take your time.", Reading: &Read{State: "hand", Belief: 0.998}})},
		{"thinking", storyOf(storyMid, Event{State: Thinking, Sentence: "Bishop f1 to c4. Let me think.", LastMove: "f1c4",
			Reading: &Read{State: "move", Move: "f1c4", SAN: "Bc4", Belief: 0.99994, Squares: []string{"f1", "c4"}, Took: 0.046, Candidates: []Candidate{{"f1c4", "Bc4", 0.99994}, {"f1b5", "Bb5", 0.00004}, {"", "", 0.00002}}}})},
		{"carrying", storyCarrying()},
		{"removal", storyOf(storyTook, Event{State: Removal, Sentence: "I play knight c6 takes e5. Please take your knight off e5.", LastMove: "f3e5", Wanted: []HandAct{{From: "e5", To: Off}}})},
		{"taking-back", storyOf(storyMid, Event{State: Undoing, Sentence: "Please move the white bishop from c4 to f1.", LastMove: "f1c4",
			Wanted: []HandAct{{From: "c4", To: "f1"}}})},
		{"in-the-tray", storyOf(storyTook, storyTray()...)},
		{"setting-up", storyOf(storyMate, Event{State: Arranging, Sentence: "I set the men up for the next game. Hands off, please."})},
		{"verifying", storyOf(storyMid, Event{State: Verifying, Sentence: "Knight g8 to f6. Looking whether it stands well.", LastMove: "f1c4", Carriage: &Carriage{X: 48, Y: 80}})},
		{"half-done", storyOf(storyMid, Event{State: Guest, Sentence: "Castling is half done: now put the rook from h1 on f1.",
			Reading: &Read{State: "partial", Belief: 0.97, Squares: []string{"e1", "g1"}}})},
		{"illegal", storyOf(storyMid, Event{State: Guest, Sentence: "The bishop cannot go from f8 to f5. Please put it back on f8.",
			Men:     storyStray(),
			Reading: &Read{State: "illegal", Belief: 0.996, Squares: []string{"f8", "f5"}, Took: 0.051}})},
		{"question", storyOf(storyMid, Event{State: Reading, Sentence: "I am not sure what you played.",
			Question: &Question{Text: "Which was it?", Choices: []string{"queen d1 to e2", "queen d1 to f3", "nothing yet", "none of these"}, Moves: []string{"d1e2", "d1f3", "", ""}},
			Reading:  &Read{State: "unsure", Belief: 0.52, Squares: []string{"d1", "e2"}, Candidates: []Candidate{{"d1e2", "Qe2", 0.52}, {"d1f3", "Qf3", 0.41}, {"", "", 0.07}}}})},
		{"trouble", storyOf(storyMid, Event{State: Trouble, Sentence: "My knight slipped on the way. Please put it on f6.", Wanted: []HandAct{{From: "g8", To: "f6"}},
			Question: &Question{Text: "Does it stand on f6 now?", Choices: []string{"yes, it does", "end the game here"}},
			Log:      []Line{{Kind: Warn, Text: "Slip: knight g8–f6 lost 21 mm from its square; second try failed as well"}}})},
		{"halted", storyOf(storyMid, Event{State: Carrying, Halted: yes(), Sentence: "Stopped. Nothing moves until you let it go on.", Carriage: &Carriage{X: 64, Y: 96, Raised: true}})},
		{"promotion", storyOf(storyLate, Event{State: Guest, Sentence: "Your pawn can go on to a8."}, Event{Men: storyPromoted()})},
		{"over", storyOf(storyMate, Event{State: Over, Sentence: "Checkmate. You have won: well played.", Result: "1-0", LastMove: "h5f7"})},
	}
}

func yes() *bool { b := true; return &b }

// storyOf is the canned machine with a position and then what is special.
func storyOf(fen string, then ...Event) []Event {
	base := Event{
		FEN: fen, Visitor: &Visitor{Plays: true, Side: "white"}, Machine: storyMachine(),
		Camera: &Camera{X: 6, Y: -22, Z: 600}, Carriage: &Carriage{X: -16, Y: 122},
		Moves: []string{"e4", "e5", "Nf3", "Nc6", "Bc4"},
	}
	if fen == storyStart {
		base.Moves = []string{}
	}
	noon := time.Date(2026, 3, 14, 12, 0, 0, 0, time.UTC)
	for i, text := range []string{"Axes homed, x and y within 0.1 mm of the last time", "Camera: 81 of 81 corners, rms 0.31 px", "state: starting → guest"} {
		base.Log = append(base.Log, Line{At: noon.Add(time.Duration(i) * 1900 * time.Millisecond), Text: text})
	}
	base.Men = strew(menOf(fen, nil, base.Machine.Square))
	base.Men = append(base.Men, Man{ID: "t1", Piece: "p"}, Man{ID: "t2", Piece: "n"}, Man{ID: "t3", Piece: "P"})
	base.View, base.JPEG = storyPicture(base)
	for i := range then {
		if r := then[i].Reading; r != nil && r.Outlines == nil {
			r.Outlines = storyOutlines(base)
		}
	}
	return append([]Event{base}, then...)
}

// strew moves the men a little off their centres, always the same way.
func strew(men []Man) []Man {
	for i := range men {
		men[i].X += float64((i*37)%11-5) * 0.4
		men[i].Y += float64((i*53)%11-5) * 0.35
		men[i].Sigma = 0.2
	}
	return men
}

func storyMachine() *Machine {
	return &Machine{
		Name: "Canned specimen", Square: 32, Border: 15,
		Feet:  map[string]Foot{"K": {15, 52}, "Q": {15, 46}, "B": {14, 38}, "N": {14, 34}, "R": {14, 30}, "P": {12.5, 27}},
		Reach: []Place{{-128, -118}, {128, 132}},
		Rows:  []Row{{"Square", "32 mm"}, {"Board", "4 mm, warp ± 0.4"}, {"Drive magnet", "⌀10 × 5 N42"}, {"Foot magnet", "⌀6 × 2 N42"}, {"Gap", "4.9 mm"}, {"Axes", "rack, 120 mm/s"}},
	}
}

// storyCarrying shows routes with clearances and a slow motion.
func storyCarrying() []Event {
	way := []Place{{80, 112}, {80, 96}, {64, 96}, {64, 80}, {48, 80}}
	return storyOf(storyMid, Event{
		State: Carrying, Sentence: "I play knight g8 to f6. Hands off, please.", LastMove: "f1c4",
		Reading: &Read{State: "move", Move: "f1c4", SAN: "Bc4", Belief: 0.99994, Took: 0.046, Candidates: []Candidate{{"f1c4", "Bc4", 0.99994}, {"f1b5", "Bb5", 0.00004}}},
		Lanes: []Lane{
			{Do: "travel", Path: []Place{{-16, 122}, {80, 112}}, Done: true},
			{Do: "carry", Path: way, Clearances: []Clearance{
				{From: Place{71, 96}, To: Place{57, 90}, Free: 3.4}, {From: Place{80, 89}, To: Place{80, 86.2}, Free: 2.8, Tight: true}}},
		},
		Log: []Line{{Kind: Change, Text: "state: thinking → carrying"}, {Text: "Plan: 5 steps, 6.2 s, checked"}},
	}, Event{Motion: &Motion{Path: way, Duration: 14, Carrying: "g8", Raised: true}})
}

// storyTray has slots beside the board, with two men in them, and something
// to wish for.
func storyTray() []Event {
	m := storyMachine()
	m.Border = 60
	for k, x := range []float64{-168, 168} {
		for i := range 8 {
			m.Slots = append(m.Slots, Slot{Name: string("LR"[k]) + strconv.Itoa(i+1), At: Place{x, float64(i)*32 - 112}})
		}
	}
	men := append(menOf(storyTook, nil, m.Square), Man{ID: "s1", Piece: "p", Slot: "R2", X: 168, Y: -80}, Man{ID: "s2", Piece: "N", Slot: "L5", X: -168, Y: 16})
	return []Event{{Machine: m, Men: men, State: Guest, Sentence: "I played knight from f6 takes the pawn on e4. Your move. If you take a man of mine, stand it in slot R3.",
		Offers: []Offer{{Wish{WishTakeBack, 1}, "Take back the last move"}, {Wish{WishTakeBack, 2}, "Take back the last two moves"}}}}
}

// storyStray has the bishop of f8 on f5.
func storyStray() []Man {
	return storyShift(strew(menOf(storyMid, nil, storyMachine().Square)), "f8", "f5")
}

func storyPromoted() []Man {
	return storyShift(menOf(storyLate, nil, storyMachine().Square), "a7", "a8")
}

func storyShift(men []Man, from, to string) []Man {
	for i := range men {
		if men[i].Square == from {
			men[i] = standOn(to, men[i], storyMachine().Square)
		}
	}
	return men
}
