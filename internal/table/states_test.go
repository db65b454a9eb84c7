// SPDX-License-Identifier: Apache-2.0

package table

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"os"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"boardhand/internal/carry"
	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/motion"
	"boardhand/internal/notice"
	"boardhand/internal/photo"
	"boardhand/internal/rig"
	"boardhand/internal/sight"
	"boardhand/internal/table/journal"
	"boardhand/internal/table/places"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// stimulus is one thing that may happen in a state: pictures from then on, or
// something a person does once.
type stimulus struct {
	name    string
	picture string          // as in paper's script, for all pictures from then on
	request journal.Request // made once
	stop    bool
	stall   bool
	unplug  bool
	hands   int // pictures in a row that show a hand while a piece is carried
}

var stimuli = []stimulus{
	{name: "picture: nothing new", picture: "same"},
	{name: "picture: the move", picture: "move"},
	{name: "picture: a hand", picture: "hand"},
	{name: "picture: half a move", picture: "partial e2"},
	{name: "picture: no legal move", picture: "illegal e2,e5"},
	{name: "picture: a doubt", picture: "unsure"},
	{name: "no picture", picture: "broken"},
	{name: "a person: take back", request: journal.Request{Kind: journal.RequestBack, Plies: 1}},
	{name: "a person: new game", request: journal.Request{Kind: journal.RequestNew}},
	{name: "a person: resign", request: journal.Request{Kind: journal.RequestResign}},
	{name: "a person: draw?", request: journal.Request{Kind: journal.RequestDraw}},
	{name: "a person: nothing was played", request: journal.Request{Kind: journal.RequestPlayed}},
	{name: "a person: this is the position", request: journal.Request{Kind: journal.RequestPosition, FEN: "rnbqkbnr/pppp1ppp/8/4p3/4P3/5N2/PPPP1PPP/RNBQKB1R b KQkq - 1 2"}},
	{name: "a person: right as it stands", request: journal.Request{Kind: journal.RequestRight}},
	{name: "a person: look afresh", request: journal.Request{Kind: journal.RequestAfresh}},
	{name: "a person: a hint", request: journal.Request{Kind: journal.RequestHint}},
	{name: "a person: play in chalk", request: journal.Request{Kind: journal.RequestStrength, Strength: "chalk"}},
	{name: "a person: resume", request: journal.Request{Kind: journal.RequestResume}},
	{name: "a person: stop", stop: true},
	{name: "an axis stalls", stall: true},
	{name: "the controller's plug is pulled", unplug: true},
	{name: "a hand reaches in while a piece is carried", hands: 3},
	{name: "a hand stays while a piece is carried", hands: 100},
}

// probe brings a table into a state and lets one thing happen there.
type probe struct {
	*paper
	in     journal.State
	what   stimulus
	once   sync.Once
	there  bool          // the state has been reached
	next   journal.State // and left for
	on     string        // by what
	answer string        // what was refused
	said0  int           // sentences said before
	said1  int           // and when it was left
	looks  int           // pictures since
	ways   []journal.RequestKind
}

// pictures that one stimulus is given.
const enough = 10

func (p *probe) Append(ctx context.Context, r journal.Record) error {
	if p.there && p.next == "" && r.State != p.in {
		p.next, p.on, p.said1 = r.State, string(r.What), len(p.said)
		p.cancel()
	}
	err := p.paper.Append(ctx, r)
	if !p.there && r.State == p.in && p.isThere(r) {
		p.there, p.said0 = true, len(p.said)
	}
	return err
}

// isThere says whether the state has been reached where something can happen.
func (p *probe) isThere(r journal.Record) bool {
	switch p.in {
	case journal.Trouble:
		return p.table.kit.d.IsAwaiting()
	case journal.Carrying:
		return r.What == journal.Told
	}
	return true
}

// act does what the stimulus does once, when the state waits.
func (p *probe) act() {
	if !p.there {
		return
	}
	p.once.Do(func() {
		switch {
		case p.what.stop:
			_ = p.table.Halt() // paper's never fails
		case p.what.request.Kind != "":
			if err := p.table.Request(p.what.request); err != nil {
				p.answer = err.Error()
			}
		}
	})
}

func (p *probe) Look(ctx context.Context) (photo.Picture, error) {
	p.act()
	if !p.there {
		return p.paper.Look(ctx)
	}
	if p.looks++; p.looks > enough {
		p.cancel()
		return photo.Picture{}, context.Canceled
	}
	word := p.what.picture
	m := p.due()
	if _, err := p.pos.ParseUCI(m); err != nil && (word == "move" || word == "unsure") { // no such move here
		word = "same"
	}
	switch word {
	case "":
		if word = p.script[len(p.script)-1]; strings.HasPrefix(word, "move") {
			word = "same"
		}
	case "move":
		word = "move " + m
	case "unsure":
		word = "unsure " + m + " 0000"
	}
	p.script, p.shown = append(p.script, word), len(p.script)+1
	if word == "broken" {
		return photo.Picture{}, errors.New("no picture came: is the camera plugged in?")
	}
	return photo.Picture{Name: fmt.Sprint(p.shown)}, nil
}

// due is the move that would be seen now.
func (p *probe) due() string {
	if p.table.kit.m.Decided != 0 {
		return p.table.kit.m.Decided.String()
	}
	return "d2d4"
}

func (p *probe) Tell(_ context.Context, n notice.Notice) error {
	p.said = append(p.said, n.Text)
	return nil
}

func (p *probe) Choose(ctx context.Context, g *chess.Game) (chess.Move, error) {
	if p.in != journal.Thinking {
		return p.paper.Choose(ctx, g)
	}
	p.act()
	if p.what.request.Kind == "" && !p.what.stop || p.answer != "" || p.what.request.Kind == journal.RequestDraw || p.what.request.Kind == journal.RequestBack || p.what.request.Kind == journal.RequestStrength {
		p.cancel()
	}
	<-ctx.Done()
	return 0, ctx.Err()
}

// probeMotors are the motors of a probe.
type probeMotors struct{ p *probe }

func (m probeMotors) Home(ctx context.Context) (frame.Spot[frame.Machine], error) {
	return motors{m.p.paper}.Home(ctx)
}

func (m probeMotors) Move(ctx context.Context, s motion.Stroke) (frame.Spot[frame.Machine], error) {
	m.p.act()
	if m.p.in == journal.Carrying && m.p.there && m.p.what.stall {
		return s.Path[0], errors.New("the x axis has stalled")
	}
	if m.p.in == journal.Carrying && m.p.there && m.p.what.unplug {
		return s.Path[0], errUnplugged
	}
	return motors{m.p.paper}.Move(ctx, s)
}

func (m probeMotors) Lift(ctx context.Context, up bool) error { return motors{m.p.paper}.Lift(ctx, up) }
func (m probeMotors) Halt() error                             { return motors{m.p.paper}.Halt() }

// probeWatch watches a probe's strokes: it shows the hands of its stimulus, then two
// pictures without, before the stroke ends.
type probeWatch struct{ p *probe }

func (w probeWatch) During(ctx context.Context, stroke func(context.Context) error, look func(context.Context, photo.Picture, error)) error {
	if !w.p.there || w.p.in != journal.Carrying || w.p.what.hands == 0 {
		return stroke(ctx)
	}
	w.p.script, w.p.shown = append(w.p.script, "same"), len(w.p.script)+1
	for range w.p.what.hands {
		look(ctx, photo.Picture{Name: "hand"}, nil)
	}
	for range 2 {
		look(ctx, photo.Picture{Name: "clear"}, nil)
	}
	if ctx.Err() != nil {
		return ctx.Err()
	}
	return stroke(ctx)
}

func (probeWatch) InWay(_ context.Context, p photo.Picture, _ sight.Way) (sight.Obstacle, error) {
	if p.Name == "hand" {
		return sight.Obstacle{IsHand: true, Squares: squares("d4")}, nil
	}
	return sight.Obstacle{}, nil
}

func (probeWatch) Hold() error                   { return nil }
func (probeWatch) Resume() error                 { return nil }
func (probeWatch) At() frame.Spot[frame.Machine] { return frame.Spot[frame.Machine]{} }

// scenes bring a table into each state.
var scenes = map[journal.State]func(*paper){
	journal.Setting:  func(p *paper) { p.script = []string{"illegal a1"} },
	journal.Guesting: func(p *paper) { p.script = []string{"same", "same"} },
	journal.Reading:  func(p *paper) { p.script = []string{"same", "same", "partial b1"} },
	journal.Thinking: func(p *paper) { p.script = []string{"same", "same", "move d2d4", "move d2d4"} },
	journal.Carrying: func(p *paper) {
		p.script, p.player = []string{"same", "same", "move d2d4", "move d2d4"}, []string{"b8c6"}
	},
	journal.Removal: func(p *paper) { p.script = []string{"same", "same"} },
	journal.Verifying: func(p *paper) {
		p.script, p.player = []string{"same", "same", "move d2d4", "move d2d4"}, []string{"b8c6"}
	},
	journal.Undoing: func(p *paper) {
		p.script, p.past.Task = []string{"illegal a1", "illegal a1"}, journal.Task{Kind: journal.TakeBack, Plies: 1}
	},
	journal.Arranging: func(p *paper) { p.script, p.past.Task = []string{"illegal a1"}, journal.Task{Kind: journal.SetUp} },
	journal.Trouble: func(p *paper) {
		p.script, p.player, p.stalls = []string{"same", "same", "move d2d4", "move d2d4", "same", "same", "same", "same", "same", "same"}, []string{"b8c6"}, 9
	},
	journal.Over: func(p *paper) { p.script = []string{"same", "same"} },
}

// seen runs one probe.
func seen(t *testing.T, in journal.State, what stimulus) *probe {
	t.Helper()
	p := &probe{paper: &paper{t: t, answers: slices.Repeat([]int{1}, 50)}, in: in, what: what}
	scenes[in](p.paper)
	p.past.Game = played(t, "e2e4", "e7e5")
	switch in {
	case journal.Removal:
		p.past.Game, p.past.Decided = played(t, "e2e4", "d7d5", "a2a3"), mustMove(t, "d5e4")
	case journal.Over:
		p.past.Game = played(t, "f2f3", "e7e5", "g2g4", "d8h4")
	}
	p.pos = p.past.Game.Position()
	r := rig.Default()
	s := Settings{Machine: Machine{Side: chess.Black, Carried: [2]bool{false, true}, Layout: places.Layout{Square: r.Board.Square}},
		Gearing: carry.NewGearing(r, r.MachineFromBoard()), Patience: time.Microsecond, Strength: "needle"}
	ctx, cancel := context.WithCancel(context.Background())
	p.cancel = cancel
	defer cancel()
	p.table = New(Parts{Camera: p, Gantry: probeMotors{p}, Guest: p, Eye: Eye{Reader: p, Witness: p, Follower: p, Learner: p}, Planner: Planner{p, p}, Player: p, Log: p, Lookout: Lookout{Watch: probeWatch{p}, Guard: probeWatch{p}, Holder: probeWatch{p}}}, s, p.past, func(e Event) {
		if e.Ways != nil && p.next == "" {
			p.ways = e.Ways
		}
		if p.in == journal.Trouble && p.table.kit.d.IsAwaiting() && !p.there {
			p.there, p.said0 = true, len(p.said)
			p.act()
			if p.what.request.Kind != journal.RequestResume {
				cancel()
			}
		}
	})
	err := p.table.Run(ctx)
	if err == nil && in == journal.Over {
		p.act()
		go cancel()
		_ = p.table.Rest(ctx) // ended by cancel at the latest
	}
	return p
}

func mustMove(t *testing.T, text string) chess.Move {
	t.Helper()
	g := played(t, "e2e4", "d7d5", "a2a3")
	pos := g.Position()
	m, err := pos.ParseUCI(text)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// row says what one stimulus does in one state.
func (p *probe) row() string {
	next, on := string(p.next), p.on
	if next == "" {
		next, on = "(stays)", ""
	}
	if p.next == "" {
		p.said1 = len(p.said)
	}
	say := ""
	if p.said1 > p.said0 {
		say = p.said[p.said1-1]
	}
	if p.answer != "" {
		say = "refused: " + p.answer
	}
	return fmt.Sprintf("| %s | %s | %s | %s |\n", p.what.name, next, on, say)
}

// The state table is what the code does, written down: for each state, what
// happens there, which state is next, what is said, and which ways on a person
// has. A state that stays where it is and offers no way on is a dead end.
func TestStateTable(t *testing.T) {
	var b strings.Builder
	b.WriteString("# The states of a game at the table\n\nWritten by `go test ./internal/table -run StateTable -update` from what the code does.\nA state that stays where it is offers the ways on that are named with it.\n")
	for _, in := range []journal.State{journal.Setting, journal.Guesting, journal.Reading, journal.Thinking, journal.Removal, journal.Carrying, journal.Verifying, journal.Undoing, journal.Arranging, journal.Trouble, journal.Over} {
		var ways []string
		for _, k := range journal.WaysOn[in] {
			ways = append(ways, "`"+string(k)+"`")
		}
		fmt.Fprintf(&b, "\n## %s\n\nA person may ask for: %s. Stopping is possible always.\n\n| what happens | next | recorded as | said |\n| --- | --- | --- | --- |\n", in, strings.Join(ways, ", "))
		for _, what := range stimuli {
			if (what.stall || what.unplug || what.hands > 0) && in != journal.Carrying {
				continue
			}
			p := seen(t, in, what)
			if !p.there {
				t.Errorf("%s was not reached", in)
				continue
			}
			if p.next == "" && len(p.ways) == 0 {
				t.Errorf("%s, %s: a dead end: it stays, and a person has no way on", in, what.name)
			}
			for _, u := range p.table.Unlisted() {
				t.Errorf("%s, %s: the state table does not have %s", in, what.name, u)
			}
			b.WriteString(p.row())
		}
	}
	const file = "../../docs/states.md"
	if *update {
		if err := os.WriteFile(file, []byte(b.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil || string(want) != b.String() {
		t.Errorf("docs/states.md does not say what the code does (%v); look at the difference after -update", err)
	}
}

// Each state leads on by itself or by a person, and to the end of the game.
func TestEveryStateLeadsOn(t *testing.T) {
	for s := range (&Table{carrier: &carrier{}}).handlers() {
		if len(journal.WaysOn[s]) == 0 {
			t.Errorf("%s offers a person no way on", s)
		}
		reached := map[journal.State]bool{s: true}
		for queue := []journal.State{s}; len(queue) > 0; queue = queue[1:] {
			for _, r := range append(slices.Clone(journal.Rules[queue[0]]), journal.Everywhere...) {
				if !reached[r.To] {
					reached[r.To] = true
					queue = append(queue, r.To)
				}
			}
		}
		if !reached[journal.Over] || !reached[journal.Guesting] && s != journal.Arranging {
			t.Errorf("%s leads neither to the guest's turn nor to the end", s)
		}
	}
}
