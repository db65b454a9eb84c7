// SPDX-License-Identifier: Apache-2.0

package follow

import (
	"strings"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/photo"
	"boardhand/internal/rig"
	"boardhand/internal/sight"
)

// told is an observer that keeps what it is told.
type told struct {
	answered []string // frames on which a person's word was needed
	failures []string
	misfits  []Misfit
	frozen   []int // pictures in a row, each time
}

func (o *told) Saw(s Sighting) error {
	if s.Answered.Played() != "" {
		o.answered = append(o.answered, s.Picture.Name)
	}
	return nil
}

func (o *told) Failed(_, text string) { o.failures = append(o.failures, text) }

func (o *told) Stuck(m Misfit) { o.misfits = append(o.misfits, m) }

func (o *told) Frozen(_ string, pictures int) { o.frozen = append(o.frozen, pictures) }

// following is a follower with answers that is shown readings, not pictures.
func following(t *testing.T, answers string) (*Follower, *told) {
	t.Helper()
	setup, err := sight.SetupFrom(rig.Default())
	if err != nil {
		t.Fatal(err)
	}
	all := Answers{}
	for text := range strings.SplitSeq(answers, ";") {
		frame, a, err := ParseAnswer(text)
		if err != nil {
			t.Fatal(err)
		}
		all[frame] = all[frame].and(a)
	}
	eye := sight.NewReader(setup)
	eye.Begin(chess.Start())
	o := &told{}
	return New(eye, all, o), o
}

// shown is a picture of that name.
func shown(name string) photo.Picture { return photo.Picture{Name: name} }

func uciMove(text string) chess.Move {
	square := func(s string) chess.Square { return chess.SquareAt(int(s[0]-'a'), int(s[1]-'1')) }
	return chess.MakeMove(square(text[:2]), square(text[2:4]), chess.NoKind)
}

// reading is a reading in short: "illegal", "move e2e4", "unsure e2e4 d2d4 -".
func reading(text string) sight.Reading {
	f := strings.Fields(text)
	r := sight.Reading{State: sight.State(f[0]), Belief: 0.9}
	for _, w := range f[1:] {
		m := chess.Move(0)
		if w != "-" {
			m = uciMove(w)
		}
		if r.State == sight.Moved {
			r.Move = m
		} else {
			r.Candidates = append(r.Candidates, sight.Candidate{Move: m, Belief: 0.5})
		}
	}
	return r
}

// What a person says of a picture counts, whatever the reader makes of it.
func TestWordOfAPerson(t *testing.T) {
	for _, c := range []struct {
		readings, answers string
		moves             string // of the game in the end
		answered          string // pictures on which the word was needed
	}{
		{"same, move e2e4, same, move e7e5", "", "e2e4 e7e5", ""},
		{"unsure e2e4 d2d4 -", "f1 d2d4", "d2d4", "f1"},
		{"unsure e2e4 d2d4 -", "f1 nothing", "", "f1"},
		{"unsure e2e4 d2d4 -", "f1 a2a3", "a2a3", "f1"},
		{"unsure e2e4 -, hand", "f2 e2e4", "e2e4", "f2"},
		{"illegal, illegal", "f2 e2e4", "e2e4", "f2"},
		{"illegal", "f1 e2e4 e7e5", "e2e4 e7e5", "f1"},
		{"illegal", "f1 nothing", "", "f1"},
		{"partial", "f1 e2e4", "e2e4", "f1"},
		{"partial, move e7e5", "f1 e2e4", "e2e4 e7e5", "f1"},
		{"same", "f1 e2e4", "e2e4", "f1"},
		{"hand", "f1 e2e4 e7e5", "e2e4 e7e5", "f1"},
		{"same, hand", "f1 nothing;f2 -", "", ""},
		{"move e2e4", "f1 e2e4", "e2e4", ""},                 // as read
		{"move e2e4", "f1 e2e4 e7e5", "e2e4 e7e5", "f1"},     // and one more
		{"move e2e4", "f1 d2d4", "d2d4", "f1"},               // otherwise
		{"move e2e4", "f1 nothing", "", "f1"},                // not at all
		{"move e2e4, same", "f2 e2e4", "e2e4", ""},           // read before
		{"move e2e4, move e7e5", "f2 e2e4", "e2e4 e7e5", ""}, // read before, and the next is read
		{"move e2e4, illegal", "f2 e2e4 e7e5 g1f3", "e2e4 e7e5 g1f3", "f2"},
		{"move e2e4, illegal, move g1f3", "f2 back 1;f2 d2d4 e7e5", "d2d4 e7e5 g1f3", "f2"},
	} {
		f, told := following(t, c.answers)
		for i, text := range strings.Split(c.readings, ", ") {
			name := "f" + string(rune('1'+i))
			if err := f.before(name); err != nil {
				t.Fatalf("%s; %s: %v", c.readings, c.answers, err)
			}
			if err := f.show(shown(name), reading(text)); err != nil {
				t.Fatalf("%s; %s: %v", c.readings, c.answers, err)
			}
		}
		var moves []string
		pos := chess.Start()
		for _, p := range f.past {
			moves = append(moves, p.move.String())
			pos = pos.After(p.move)
		}
		now := f.eye.Position()
		if got := strings.Join(moves, " "); got != c.moves || now.FEN() != pos.FEN() {
			t.Errorf("%s; %s: played %q, want %q, at %s", c.readings, c.answers, got, c.moves, now.FEN())
		}
		if got := strings.Join(told.answered, " "); got != c.answered {
			t.Errorf("%s; %s: answered on %q, want %q", c.readings, c.answers, got, c.answered)
		}
	}
}

// A move that cannot be is refused, with what else can be said.
func TestWordThatCannotBe(t *testing.T) {
	f, _ := following(t, "f1 e2e4 e2e4")
	err := f.show(shown("f1"), reading("illegal"))
	if err == nil || !strings.Contains(err.Error(), "the answer for f1: ") || !strings.Contains(err.Error(), "`f1 position FEN`") {
		t.Errorf("said %v", err)
	}
}

// What several pictures missed is made up for by one; a person's word against it counts.
func TestCatchUp(t *testing.T) {
	late := sight.Reading{State: sight.Several, Belief: 0.98, Plies: []sight.Ply{{Move: uciMove("e2e4"), Belief: 0.98}, {Move: uciMove("e7e5"), Belief: 0.98}}}
	for answers, want := range map[string]string{
		"":             "rnbqkbnr/pppp1ppp/8/4p3/4P3/8/PPPP1PPP/RNBQKBNR w",
		"f1 e2e4":      "rnbqkbnr/pppp1ppp/8/4p3/4P3/8/PPPP1PPP/RNBQKBNR w",
		"f1 d2d4 d7d5": "rnbqkbnr/ppp1pppp/8/3p4/3P4/8/PPP1PPPP/RNBQKBNR w",
		"f1 nothing":   "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w",
	} {
		f, told := following(t, answers)
		if err := f.show(shown("f1"), late); err != nil {
			t.Fatal(err)
		}
		now := f.eye.Position()
		if !strings.HasPrefix(now.FEN(), want) {
			t.Errorf("%q: %s, want %s", answers, now.FEN(), want)
		}
		if needed := len(told.answered) > 0; needed != (answers != "" && answers != "f1 e2e4") {
			t.Errorf("%q: the person's word was needed: %v", answers, needed)
		}
	}
}
