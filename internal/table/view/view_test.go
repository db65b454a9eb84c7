// SPDX-License-Identifier: Apache-2.0

package view

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/notice"
	"boardhand/internal/photo"
	"boardhand/internal/sight"
	"boardhand/internal/table/desk"
	"boardhand/internal/table/journal"
	"boardhand/internal/table/model"
	"boardhand/internal/table/places"
	"boardhand/internal/unit"
)

// errEnd ends a script: the test is over when somebody looks again.
var errEnd = errors.New("the script is over")

// paper is a view of what a script says, a word group a picture:
//
//	same | hand e4 | move e2e4 | illegal e2,e5 | none (no picture) | frozen (the last one again)
type paper struct {
	*View
	t       *testing.T
	script  []string
	looks   int
	cancel  context.CancelFunc
	said    []string
	records []journal.Happening
	camera  []error // noted of each picture
	silent  int     // how often it was noted that none comes

	seen      func(at frame.Spot[frame.Board]) sight.Presence // at single places
	strangers []sight.Stray
}

func newPaper(t *testing.T, script ...string) *paper {
	t.Helper()
	p := &paper{t: t, script: script}
	layout := places.Layout{Square: unit.MM(40), Slots: []frame.Spot[frame.Board]{{X: 0.2, Y: 0.05}, {X: 0.2, Y: -0.05}}}
	m := model.NewModel(model.Machine{Side: chess.Black, Carried: [2]bool{chess.Black: true}, Layout: layout}, journal.Past{Game: chess.NewGame(chess.Start())})
	p.View = NewView(Sources{Camera: p, Reader: p, Witness: p, NoteCamera: func(err error) { p.camera = append(p.camera, err) },
		NoteSilent: func(context.Context) error { p.silent++; return nil }}, desk.NewDesk(m, p, p, ""), m)
	p.seen = func(at frame.Spot[frame.Board]) sight.Presence { return sight.Presence{At: at, Found: at, Sure: 0.5} }
	return p
}

// context ends when the script does.
func (p *paper) context() context.Context {
	ctx, cancel := context.WithCancel(p.t.Context())
	p.cancel = cancel
	return ctx
}

func (p *paper) Look(context.Context) (photo.Picture, error) {
	if p.looks == len(p.script) {
		p.cancel()
		return photo.Picture{}, errEnd
	}
	p.looks++
	switch p.script[p.looks-1] {
	case "none":
		return photo.Picture{}, errors.New("no picture came: check the cable.")
	case "frozen":
		return p.Shown, nil
	}
	return photo.Picture{Name: fmt.Sprint(p.looks), JPEG: []byte(fmt.Sprint("picture ", p.looks))}, nil
}

func (p *paper) Read(context.Context, photo.Picture) (sight.Reading, error) {
	what, of, _ := strings.Cut(p.script[p.looks-1], " ")
	r := sight.Reading{State: sight.State(what)}
	if what == "move" {
		pos := p.model.Game.Position()
		m, err := pos.ParseUCI(of)
		if err != nil {
			p.t.Fatal(err)
		}
		r.Move, of = m, of[:2]+","+of[2:]
	}
	for _, s := range strings.FieldsFunc(of, func(c rune) bool { return c == ',' }) {
		r.Squares = append(r.Squares, square(s))
	}
	return r, nil
}

func (p *paper) Glance(ctx context.Context, pic photo.Picture) (sight.Reading, error) {
	return p.Read(ctx, pic)
}

func (p *paper) Present(at []frame.Spot[frame.Board]) (out []sight.Presence) {
	for _, a := range at {
		out = append(out, p.seen(a))
	}
	return out
}

func (p *paper) Strangers([]frame.Spot[frame.Board]) []sight.Stray { return p.strangers }

func (p *paper) Seek(chess.Square, []chess.Square) (sight.Stray, bool) { return sight.Stray{}, false }

func (p *paper) Append(_ context.Context, r journal.Record) error {
	p.records = append(p.records, r.What)
	return nil
}

func (p *paper) Tell(_ context.Context, n notice.Notice) error {
	p.said = append(p.said, n.Text)
	return nil
}

func (p *paper) Ask(context.Context, notice.Question) (int, error) { return 0, errEnd }

func square(name string) chess.Square {
	return chess.SquareAt(int(name[0]-'a'), int(name[1]-'1'))
}

func (p *paper) place(name string) places.Place { return places.Place(square(name)) }

// of is what a place shows that plainly holds a piece of a side.
func of(side chess.Color, at frame.Spot[frame.Board]) sight.Presence {
	return sight.Presence{Open: true, Belief: 0.999, Side: side, Sure: 0.999, At: at, Found: at, Sigma: 0.0005}
}

// A picture that never comes: people are told once, are not told again, and hear it
// when one comes after all.
func TestPictureThatNeverComes(t *testing.T) {
	p := newPaper(t, slices.Repeat([]string{"none"}, 5*silentAfter)...)
	if _, err := p.View.Look(p.context()); !errors.Is(err, context.Canceled) {
		t.Fatalf("it ended with %v", err)
	}
	if len(p.said) != 1 || p.said[0] != "I cannot see the board. Please look at the camera and its cable (no picture came: check the cable)." || p.silent != 1 {
		t.Errorf("said %q, noted %d times", p.said, p.silent)
	}
	if n := len(p.camera); n != 5*silentAfter+1 {
		t.Errorf("%d pictures were noted to fail", n)
	}
	p = newPaper(t, append(slices.Repeat([]string{"none"}, silentAfter), "same")...)
	if r, err := p.View.Look(p.context()); err != nil || r.State != sight.Same {
		t.Fatalf("%v, %v", r, err)
	}
	if len(p.said) != 2 || p.said[1] != "I see the board again. One moment, please." {
		t.Errorf("said %q", p.said)
	}
	if !slices.Contains(p.records, journal.CameraSilent) || !slices.Contains(p.records, journal.CameraBack) {
		t.Errorf("kept %v", p.records)
	}
}

// One or two pictures that are lost concern nobody.
func TestLostPictureIsNotTold(t *testing.T) {
	p := newPaper(t, "none", "none", "same", "none", "none", "same")
	for range 2 {
		if _, err := p.View.Look(p.context()); err != nil {
			t.Fatal(err)
		}
	}
	if len(p.said) > 0 || p.silent > 0 {
		t.Errorf("said %q", p.said)
	}
}

// The same picture again bears nothing out, and a camera that shows nothing else is
// as good as dead.
func TestFrozenCamera(t *testing.T) {
	p := newPaper(t, append([]string{"move e2e4"}, slices.Repeat([]string{"frozen"}, silentAfter)...)...)
	if _, err := p.Settled(p.context()); !errors.Is(err, context.Canceled) {
		t.Errorf("one picture, seen again and again, settled the board: %v", err)
	}
	if len(p.said) != 1 || !strings.Contains(p.said[0], "the same picture again and again") || !errors.Is(p.camera[1], ErrFrozen) {
		t.Errorf("said %q, noted %v", p.said, p.camera)
	}
}

// A board is settled when two pictures in a row say the same and no hand is in them.
func TestSettled(t *testing.T) {
	for name, c := range map[string]struct {
		script []string
		state  sight.State
		looks  int
	}{
		"two alike":                   {[]string{"move e2e4", "move e2e4"}, sight.Moved, 2},
		"a hand between":              {[]string{"move e2e4", "hand", "move e2e4", "move e2e4"}, sight.Moved, 4},
		"another move first":          {[]string{"move d2d3", "move d2d4", "move d2d4"}, sight.Moved, 3},
		"two hands are no position":   {[]string{"hand", "hand", "same", "same"}, sight.Same, 4},
		"other squares each time":     {[]string{"illegal e2", "illegal e3", "illegal e4", "illegal e5"}, sight.Illegal, Flickers + 1},
		"flickers with one good look": {[]string{"illegal e2", "illegal e3", "same", "illegal e4", "illegal e5", "illegal e5"}, sight.Illegal, 6},
	} {
		p := newPaper(t, c.script...)
		r, err := p.Settled(p.context())
		if err != nil || r.State != c.state || p.looks != c.looks {
			t.Errorf("%s: %s after %d pictures, want %s after %d (%v)", name, r.State, p.looks, c.state, c.looks, err)
		}
	}
}

// A hand that stays is told of after a while, with its squares, and after a long while
// again; one that goes is forgotten.
func TestHandThatStays(t *testing.T) {
	p := newPaper(t, append(slices.Repeat([]string{"hand e4,d5"}, handAgain+handAfter), "same")...)
	if err := p.UntilClear(p.context()); err != nil {
		t.Fatal(err)
	}
	if len(p.said) != 2 || p.said[0] != "I see a hand, or a thing, at e4 and d5. I go on when it is gone; if nothing is there, ask me to look afresh." || p.said[1] != p.said[0] {
		t.Errorf("said %q", p.said)
	}
	p = newPaper(t, slices.Concat(slices.Repeat([]string{"hand"}, handAfter-1), []string{"same"}, slices.Repeat([]string{"hand"}, handAfter-1), []string{"same"})...)
	for range 2 {
		if err := p.UntilClear(p.context()); err != nil {
			t.Fatal(err)
		}
		p.NoHand()
	}
	if len(p.said) > 0 {
		t.Errorf("two short visits: said %q", p.said)
	}
}

// Nobody looks while the machine is stopped, and what a person asks for ends the look.
func TestLookAttends(t *testing.T) {
	p := newPaper(t, "same")
	p.desk.Grant = func(context.Context, journal.Request) error { return errEnd }
	p.desk.State = journal.Guesting
	p.desk.Offer()
	if err := p.desk.Request(journal.Request{Kind: journal.RequestAfresh}); err != nil {
		t.Fatal(err)
	}
	if _, err := p.View.Look(p.context()); !errors.Is(err, errEnd) || p.looks > 0 {
		t.Errorf("asked for something: %v after %d pictures", err, p.looks)
	}
	p.desk.Halt()
	if _, err := p.View.Look(p.context()); !errors.Is(err, desk.ErrHalted) || p.looks > 0 {
		t.Errorf("stopped: %v after %d pictures", err, p.looks)
	}
}

// Who was measured before may be another piece now: the last measurement counts alone.
func TestOffsetsAreOfTheLastPicture(t *testing.T) {
	p := newPaper(t)
	a, b := sight.Offset{Square: square("e4"), Sigma: 0.001}, sight.Offset{Square: square("d5"), Sigma: 0.002}
	p.see(photo.Picture{}, sight.Reading{Offsets: []sight.Offset{a}})
	p.see(photo.Picture{}, sight.Reading{})
	if p.model.Offsets[a.Square] != a {
		t.Error("a picture in which nothing was measured has the last places forgotten")
	}
	p.see(photo.Picture{}, sight.Reading{Offsets: []sight.Offset{b}})
	if len(p.model.Offsets) != 1 || p.model.Offsets[b.Square] != b {
		t.Errorf("kept are %v", p.model.Offsets)
	}
}
