// SPDX-License-Identifier: Apache-2.0

package uci

import (
	"bytes"
	"context"
	"errors"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"boardhand/internal/chess"
	"boardhand/internal/uci/fake"
)

// The test binary itself is the outside player.
func TestMain(m *testing.M) {
	fake.Become()
	holdPlayer()
	os.Exit(m.Run())
}

// What the players of these tests are given, told apart by the clock.
const (
	aMove  = 7 * time.Second
	aStart = 60 * time.Second
	aGrace = 50 * time.Second
	aQuit  = 40 * time.Second
)

// passing is the patience of which only those times pass.
func passing(times ...time.Duration) Patience {
	return Patience{Start: aStart, Grace: aGrace, Quit: aQuit, After: fake.Clock(times...)}
}

var timed = Limits{Time: aMove}

func self() string { return `"` + os.Args[0] + `"` }

func stranger(t *testing.T, manner string, times ...time.Duration) *Player {
	t.Helper()
	t.Setenv(fake.Manner, manner)
	p, err := Start(t.Context(), self(), passing(times...))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(p.Kill)
	return p
}

func TestThink(t *testing.T) {
	for _, manner := range []string{fake.Plain, fake.Chatters, fake.LongLine, fake.Double} {
		p := stranger(t, manner)
		g := chess.NewGame(chess.Start())
		for range 6 {
			th, err := p.Think(t.Context(), g, Limits{Time: time.Second, Depth: 3, Nodes: 1000})
			if err != nil {
				t.Fatalf("%s: %v", manner, err)
			}
			if th.Move != fake.Last(g) || th.ScoreCP != -17 || th.Depth != 3 || th.Nodes != 1234 || len(th.PV) != 1 {
				t.Fatalf("%s: thought %+v, want move %s", manner, th, fake.Last(g))
			}
			if err := g.Push(th.Move); err != nil {
				t.Fatal(err)
			}
		}
		if p.Name != "A Stranger" {
			t.Errorf("name %q", p.Name)
		}
	}
}

// A player that is late answers when it is told to stop.
func TestStopGivesAMove(t *testing.T) {
	p := stranger(t, fake.Muses, aMove+aGrace, aMove+aGrace)
	g := chess.NewGame(chess.Start())
	for range 2 {
		th, err := p.Think(t.Context(), g, timed)
		if err != nil || th.Move != fake.Last(g) {
			t.Fatalf("stopped thought: %s, %v", th.Move, err)
		}
		if err := g.Push(th.Move); err != nil {
			t.Fatal(err)
		}
	}
}

// Not every player knows every limit: what it tells of its depth and nodes says
// when it is well past.
func TestLimitsThatThePlayerDoesNotKnow(t *testing.T) {
	p := stranger(t, fake.Deep)
	g := chess.NewGame(chess.Start())
	for _, lim := range []Limits{{Nodes: 1000}, {Depth: 4}} {
		if th, err := p.Think(t.Context(), g, lim); err != nil || th.Move != fake.Last(g) {
			t.Errorf("%+v: %s, %v", lim, th.Move, err)
		}
	}
}

// When the context ends the call returns at once, and the late answer is no
// answer to the next question.
func TestCancelEndsAtOnce(t *testing.T) {
	p := stranger(t, fake.Muses)
	g := chess.NewGame(chess.Start())
	for range 3 {
		ctx, cancel := context.WithCancel(t.Context())
		ended := make(chan error)
		go func() {
			_, err := p.Think(ctx, g, Limits{Depth: 99})
			ended <- err
		}()
		cancel()
		if err := <-ended; !errors.Is(err, context.Canceled) {
			t.Fatalf("cancelled: %v", err)
		}
		if err := g.Push(fake.Last(g)); err != nil {
			t.Fatal(err)
		}
	}
	p.patience.After = fake.Clock(aMove + aGrace)
	if th, err := p.Think(t.Context(), g, timed); err != nil || th.Move != fake.Last(g) {
		t.Errorf("the next thought: %s, %v; want %s", th.Move, err, fake.Last(g))
	}
}

// A player that hangs and does not even hear stop, ends with the context too.
func TestCancelOfADeafPlayer(t *testing.T) {
	p := stranger(t, fake.Hangs)
	ctx, cancel := context.WithCancel(t.Context())
	ended := make(chan error)
	go func() {
		_, err := p.Think(ctx, chess.NewGame(chess.Start()), timed)
		ended <- err
	}()
	cancel()
	if err := <-ended; !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: %v", err)
	}
}

func TestBadPlayers(t *testing.T) {
	late := []time.Duration{aMove + aGrace, aGrace}
	for _, c := range []struct {
		manner string
		times  []time.Duration
		want   []string
	}{
		{fake.Hangs, late, []string{`the player "A Stranger": it does not answer`, "after stop"}},
		{fake.Floods, late, []string{"it does not answer"}},
		{fake.Garbage, nil, []string{`answered "?\x00\x1b[2J"`}},
		{fake.Crashes, nil, []string{"it has ended by itself (exit status 7)", `its last words were "out of memory\x1b[31m"`}},
		{fake.Closes, []time.Duration{-aGrace, aGrace}, []string{"it has closed its output"}},
		{fake.Bare, nil, []string{`the player "A Stranger" answered without a move`}},
		{fake.Null, nil, []string{`answered "0000"`}},
		{fake.None, nil, []string{`answered "(none)"`}},
		{fake.Cheats, nil, []string{`answered "e1e8"`, "not legal"}},
		{fake.Coloured, nil, []string{`the player "\x1b[31mRed\x1b[0m" answered "\x1b[2Ja1"`}},
	} {
		t.Run(c.manner, func(t *testing.T) {
			p := stranger(t, c.manner, c.times...)
			th, err := p.Think(t.Context(), chess.NewGame(chess.Start()), timed)
			checkError(t, err, c.want)
			if th.Move != 0 {
				t.Errorf("it gave a move besides: %s", th.Move)
			}
			var wrong *WrongError
			if strings.Contains(c.want[0], "answered") != errors.As(err, &wrong) {
				t.Errorf("%v: a wrong answer and a broken player are not told apart", err)
			}
		})
	}
}

// checkError wants every part in the error, and nothing that a terminal obeys.
func checkError(t *testing.T, err error, want []string) {
	t.Helper()
	if err == nil {
		t.Fatal("no error")
	}
	for _, w := range want {
		if !strings.Contains(err.Error(), w) {
			t.Errorf("said %q, want %q", err, w)
		}
	}
	if strings.ContainsAny(err.Error(), "\x1b\x00\r") {
		t.Errorf("%q holds control characters", err)
	}
}

func TestBadStarts(t *testing.T) {
	if _, err := Start(t.Context(), " ", Patience{}); err == nil {
		t.Error("an empty command was accepted")
	}
	_, err := Start(t.Context(), "/nowhere/player", Patience{})
	checkError(t, err, []string{"cannot be started"})
	t.Setenv(fake.Manner, fake.CrashesNow)
	_, err = Start(t.Context(), self(), passing())
	checkError(t, err, []string{"it has ended by itself (exit status 3)", `"cannot load the network\x1b[31m"`})
	t.Setenv(fake.Manner, fake.Dumb)
	_, err = Start(t.Context(), self(), passing(aStart))
	checkError(t, err, []string{"it did not say uciok within 1m0s", "does it speak UCI?"})
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := Start(ctx, self(), passing()); !errors.Is(err, context.Canceled) {
		t.Errorf("a cancelled start: %v", err)
	}
}

func TestNothingToThinkAbout(t *testing.T) {
	p := stranger(t, fake.Plain)
	if _, err := p.Think(t.Context(), chess.NewGame(chess.Start()), Limits{}); err == nil {
		t.Error("a thought without limits was begun")
	}
	mated, err := chess.ParseFEN("rnb1kbnr/pppp1ppp/8/4p3/6Pq/5P2/PPPPP2P/RNBQKBNR w KQkq - 1 3")
	if err != nil {
		t.Fatal(err)
	}
	_, err = p.Think(t.Context(), chess.NewGame(mated), timed)
	checkError(t, err, []string{"there is no move to find"})
}

// A program that does not listen cannot hold us, however much it is told.
func TestDeafPlayersPipeFills(t *testing.T) {
	p := stranger(t, fake.Hangs)
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	_, _ = p.Think(ctx, chess.NewGame(chess.Start()), timed)
	p.patience.Grace = time.Millisecond // nobody reads: the pipe is full for good
	p.patience.After = fake.Clock(slices.Repeat([]time.Duration{time.Millisecond}, 9)...)
	p.owes = true
	_ = p.say("go")
	var err error
	for i := 0; err == nil && i < 64; i++ {
		err = p.say(strings.Repeat("isready\n", 1<<12))
	}
	checkError(t, err, []string{"it does not listen any more"})
}

// wholeLife waits until nobody holds the named pipe any more.
type wholeLife struct{ pipe *os.File }

func watchLife(t *testing.T) wholeLife {
	t.Helper()
	path := filepath.Join(t.TempDir(), "alive")
	if err := syscall.Mkfifo(path, 0o600); err != nil {
		t.Fatal(err)
	}
	f, err := os.OpenFile(path, os.O_RDONLY|syscall.O_NONBLOCK, 0)
	if err != nil {
		t.Fatal(err)
	}
	t.Setenv(fake.Alive, path)
	return wholeLife{f}
}

func (w wholeLife) end(t *testing.T) {
	t.Helper()
	if _, err := io.ReadAll(w.pipe); err != nil {
		t.Error(err)
	}
	_ = w.pipe.Close()
}

// Whoever does not quit is killed with all that it started, and waited for.
func TestCloseEndsThemAll(t *testing.T) {
	for manner, times := range map[string][]time.Duration{fake.Plain: nil, fake.Stubborn: {aQuit}, fake.Family: {aQuit}, fake.Hangs: {aQuit}} {
		life := watchLife(t)
		p := stranger(t, manner, times...)
		if manner == fake.Hangs {
			ctx, cancel := context.WithCancel(t.Context())
			cancel()
			_, _ = p.Think(ctx, chess.NewGame(chess.Start()), timed)
		}
		p.Close()
		<-p.p.ended
		life.end(t)
		if p.p.status == "" {
			t.Errorf("%s: nobody waited for it", manner)
		}
	}
}

// holder is what a helper process does that is killed: it holds a player.
const holder = "HOLD_PLAYER"

func holdPlayer() {
	manner := os.Getenv(holder)
	if manner == "" {
		return
	}
	_ = os.Setenv(fake.Manner, manner)
	if _, err := Start(context.Background(), self(), passing()); err != nil {
		panic(err)
	}
	_, _ = os.Stdout.WriteString("ready\n")
	select {}
}

// The player and all that it started end with us, even when we are killed.
func TestPlayerEndsWithUs(t *testing.T) {
	for _, manner := range []string{fake.Stubborn, fake.Family} {
		life := watchLife(t)
		t.Setenv(holder, manner)
		p, err := launch([]string{os.Args[0]})
		if err != nil {
			t.Fatal(err)
		}
		if line := <-p.lines; line != "ready" {
			t.Fatalf("the helper said %q; %s", line, &p.words)
		}
		if err := p.cmd.Process.Kill(); err != nil { // it alone, not its group
			t.Fatal(err)
		}
		life.end(t)
		p.bury()
	}
}

func FuzzNote(f *testing.F) {
	f.Add("depth 3 score cp 5 pv e2e4 e7e5")
	f.Add("score mate -2 nodes x depth")
	f.Fuzz(func(t *testing.T, s string) {
		var th Thought
		pos := chess.Start()
		th.note(strings.Fields(s), &pos)
		for _, m := range th.PV {
			if !pos.Legal(m) {
				t.Fatalf("%q: %s", s, m)
			}
			pos = pos.After(m)
		}
	})
}

// Whatever another program says, what is printed of it is one line without
// control characters.
func FuzzQuoted(f *testing.F) {
	f.Add("\x1b[31m\xff\n")
	f.Fuzz(func(t *testing.T, s string) {
		if q := quoted(s, 20); bytes.ContainsFunc([]byte(q), func(r rune) bool { return r < ' ' || r == 0x7f }) {
			t.Errorf("%q is printed as %s", s, q)
		}
	})
}
