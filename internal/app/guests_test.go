// SPDX-License-Identifier: Apache-2.0

package app

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"maps"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/gamelog"
	"boardhand/internal/rehearsal/fixture"
	"boardhand/internal/rig"
	"boardhand/internal/session"
	"boardhand/internal/store"
	"boardhand/internal/table"
	"boardhand/internal/table/places"
	"boardhand/internal/terminal"
	"boardhand/internal/unit"
	"boardhand/internal/web"
)

func cloned(m map[string]json.RawMessage) map[string]json.RawMessage { return maps.Clone(m) }

// quietOut keeps what the program prints.
type quietOut struct {
	mu   sync.Mutex
	text strings.Builder
	url  chan string
}

func (q *quietOut) Write(b []byte) (int, error) {
	q.mu.Lock()
	defer q.mu.Unlock()
	if i := strings.Index(string(b), "http://"); i >= 0 && q.url != nil {
		q.url <- strings.Fields(string(b[i:]))[0]
		q.url = nil
	}
	return q.text.Write(b)
}

func (q *quietOut) String() string {
	q.mu.Lock()
	defer q.mu.Unlock()
	return q.text.String()
}

// guestStarts are positions in which castling, promotion and taking en passant
// are near.
var guestStarts = []string{
	"",
	"r1bqk2r/pppp1ppp/2n2n2/2b1p3/2B1P3/2N2N2/PPPP1PPP/R1BQK2R w KQkq - 0 5",
	"r3k2r/ppp2ppp/2n1bn2/3pp3/3PP3/2N1BN2/PPP2PPP/R3K2R w KQkq - 0 9",
	"4k3/P5pp/8/8/8/8/1p3PPP/4K2R w K - 0 30",
	"r1bqkbnr/ppp1pppp/2n5/3pP3/8/8/PPPP1PPP/RNBQKBNR w KQkq d6 0 3",
	"3rk3/1P3ppp/8/2pP4/8/8/1P3PPP/R3K3 w Q c6 0 20",
}

// guestGame is one evening of a random guest.
type guestGame struct {
	t      *testing.T
	seed   uint64
	plies  int
	e      *session.Session
	dir    string
	said   *quietOut
	tables []*table.Table
	ended  chan error
	stop   context.CancelFunc
	g      *guest
}

// sitDown begins the evening in-process.
func sitDown(t *testing.T, seed uint64) *guestGame {
	t.Helper()
	chance := rand.New(rand.NewPCG(seed, 0))
	o := &quietOut{url: make(chan string, 1)}
	url := o.url
	s := &guestGame{t: t, seed: seed, said: o, ended: make(chan error, 1), dir: t.TempDir(), plies: 4 + chance.IntN(5)}
	if os.Getenv("BOARDHAND_LONG") != "" {
		s.plies = 12 + chance.IntN(19)
	}
	r, text := rig.Default(), rig.DefaultText
	if chance.IntN(3) > 0 {
		text = fixture.Tray(t, []string{"black", "both"}[chance.IntN(2)])
		var err error
		if r, err = rig.Parse("guests.toml", []byte(text), rig.Machine); err != nil {
			t.Fatal(err)
		}
	}
	r.Play.Time = unit.Duration(0.02)
	f := session.Options{Games: s.dir, Addr: "127.0.0.1:0", Keep: "100MB", Visitor: true, Seed: int64(seed % 1000), Plies: s.plies}
	if fen := guestStarts[chance.IntN(len(guestStarts))]; fen != "" {
		s.dir = keepFrom(t, fen)
		f.Games, f.Resume = s.dir, session.LastGame
	}
	ctx, stop := context.WithCancel(t.Context())
	s.stop = stop
	s.e = &session.Session{Out: &terminal.Out{W: o, Err: o}, Options: f, Rig: r, RigText: text}
	var err error
	if s.e.Store, err = store.Open(f.Games); err != nil {
		t.Fatal(err)
	}
	s.e.Store.Warn, s.e.Store.KeepPictures = func(string) {}, 1<<20
	if err := s.e.Open(ctx); err != nil {
		t.Fatal(err)
	}
	go func() { s.ended <- s.e.Run(ctx) }()
	select {
	case u := <-url:
		page, err := view(u)
		if err != nil {
			t.Fatal(err)
		}
		s.g = &guest{chance: rand.New(rand.NewPCG(seed, 1)), page: page, oddity: 0.05 + 0.3*chance.Float64(), kind: chess.Queen, live: liveTrace(), counted: map[string]int{}}
	case err := <-s.ended:
		t.Fatal(err)
	}
	return s
}

// play plays until the game is over and the guest has had enough.
func (s *guestGame) play() error {
	g := s.g
	defer func() {
		g.page.close()
		if g.second != nil {
			g.second.close()
		}
	}()
	for g.page.now.FEN == "" { // a page opened before the pieces were shown for the first time
		if err := g.page.wait(); err != nil {
			return err
		}
	}
	for {
		s.watchTables()
		if err := g.page.drain(); err != nil {
			return err
		}
		if g.second != nil {
			if err := g.second.drain(); err != nil {
				return err
			}
		}
		if err := g.gets(); err != nil {
			return err
		}
		if g.isOver() && s.hasEnough() {
			return s.handsRest()
		}
		did, err := g.step()
		if err != nil {
			return err
		}
		if !did {
			if err := g.page.wait(); err != nil {
				return err
			}
		}
	}
}

// isOver says whether the game is over; one that was set up for the next is not.
func (g *guest) isOver() bool {
	return g.page.now.State == web.Over && strings.HasPrefix(g.page.now.Sentence, "The game")
}

// hasEnough says whether the guest goes home; else something more is asked for.
func (s *guestGame) hasEnough() bool {
	g := s.g
	switch {
	case g.back == 0 && g.chances(0.25) && g.page.offers(web.ForBack):
		_, _ = g.takesBack()
	case g.again == 0 && g.chances(0.25) && g.page.offers(web.ForNew):
		g.again++
		_, _ = g.does("asks for another game", "request", web.Request{For: web.ForNew})
	default:
		return true
	}
	for g.isOver() {
		if err := g.page.wait(); err != nil {
			return true
		}
	}
	return false
}

// handsRest lets the hand finish all that the guest had it do: errands that still
// wait end with the evening, and after a game nobody looks, so that the twin's
// clock stands.
func (s *guestGame) handsRest() error {
	h, camera := s.e.Host, s.e.Bench.World.Camera()
	for h.IsBusy() {
		if _, err := camera.Look(s.t.Context()); err != nil {
			return err
		}
	}
	return nil
}

// watchTables remembers the tables at which was played.
func (s *guestGame) watchTables() {
	if t, ok := s.e.Host.Desk().(*table.Table); ok && !slices.Contains(s.tables, t) {
		s.tables = append(s.tables, t)
	}
}

// settle ends the evening and lets the twin's hand finish.
func (s *guestGame) settle() error {
	select {
	case err := <-s.ended:
		return fmt.Errorf("the program has ended by itself: %w\n%s", err, s.said)
	default:
	}
	s.stop()
	err := <-s.ended
	if errors.Is(err, context.Canceled) {
		err = nil
	}
	camera := s.e.Bench.World.Camera()
	for err == nil && s.e.Bench.World.Visitor().Busy() {
		_, err = camera.Look(context.Background())
	}
	return err
}

// check compares what is left: table, world, page and store.
func (s *guestGame) check() (wrong []string) {
	complain := func(format string, a ...any) { wrong = append(wrong, fmt.Sprintf(format, a...)) }
	for _, t := range s.tables {
		for _, u := range t.Unlisted() {
			complain("a transition that the state table does not have: %s", u)
		}
	}
	truth, pos := board(s.e.Bench.World.Truth().Squares), s.e.Game.Position()
	if shown := s.g.page.board(); shown != truth {
		complain("the page shows %s, true is %s", boardText(shown), boardText(truth))
	}
	clean := s.g.page.board() == places.StandingOf(pos).Board
	if clean && places.StandingOf(pos).Board != truth {
		complain("the game's position is %s, true is %s", boardText(places.StandingOf(pos).Board), boardText(truth))
	}
	if !clean {
		s.g.count("(ended in the middle of something)")
	}
	heading := s.e.Heading
	entries, err := s.e.Store.Entries(context.Background(), heading.ID)
	if err != nil {
		return append(wrong, err.Error())
	}
	g, err := s.e.Store.Game(context.Background(), heading.ID)
	if err != nil {
		return append(wrong, err.Error())
	}
	k, err := gamelog.Replay(g, entries)
	if err != nil {
		return append(wrong, err.Error())
	}
	if was := k.Game.Position(); was.FEN() != pos.FEN() {
		complain("the store replays to %s, the game is at %s", was.FEN(), pos.FEN())
	}
	if k.Standing != nil && clean && k.Standing.Board != truth {
		complain("the store has the pieces at %v, true is %s", k.Standing, boardText(truth))
	}
	return wrong
}

func boardText(b board) string {
	text, _, _ := strings.Cut(places.Standing{Board: b}.String(), " ")
	return text
}

// report is what is printed of a game that failed.
func (s *guestGame) report(why string) string {
	trace, log := s.g.trace, s.g.page.log
	e := s.g.page.now
	offers := []string{}
	for _, o := range e.Offers {
		offers = append(offers, o.Request.For)
	}
	hands := e.Hands != nil && *e.Hands
	return fmt.Sprintf("seed %d (play it again with BOARDHAND_GUEST=%d, and BOARDHAND_LONG=1 if that was set): %s\nwhat the guest did:\n  %s\nthe log:\n  %s\nthe page: state %s, hands %v, %q, wanted %v, phantoms %v, offers %v, question %+v, reading %+v\nshown %s, game %s, the twin counts %+v",
		s.seed, s.seed, why, strings.Join(trace[max(0, len(trace)-60):], "\n  "), strings.Join(log[max(0, len(log)-60):], "\n  "),
		e.State, hands, e.Sentence, e.Wanted, e.Phantoms, offers, e.Question, e.Reading, boardText(s.g.page.board()), e.FEN, s.e.Bench.World.Truth().Counters)
}

// A guest who does odd things at random, through the page's own requests, comes
// to the end of every game, and the board, the game, the page and the store
// agree there.
func TestRandomGuests(t *testing.T) {
	whole(t)
	var (
		mu      sync.Mutex
		counted = map[string]int{}
	)
	t.Run("seeds", func(t *testing.T) {
		for _, seed := range guestSeeds(t) {
			t.Run(strconv.FormatUint(seed, 10), func(t *testing.T) {
				t.Parallel()
				s := sitDown(t, seed)
				err := s.play()
				err = errors.Join(err, s.settle())
				if err != nil {
					t.Errorf("%s", s.report(err.Error()))
				} else if wrong := s.check(); len(wrong) > 0 {
					t.Errorf("%s", s.report(strings.Join(wrong, "\n")))
				}
				_ = s.e.Store.Close()
				mu.Lock()
				defer mu.Unlock()
				for what, n := range s.g.counted {
					counted[what] += n
				}
				fmt.Fprintf(testProgress(), "guest of seed %d: %d pictures, %d acts, %d plies\n", seed, s.g.page.now.Picture, len(s.g.trace), len(s.g.page.now.Moves))
			})
		}
	})
	for _, what := range slices.Sorted(maps.Keys(counted)) {
		t.Logf("%5d  %s", counted[what], what)
	}
}

// testProgress is where a long run tells how far it is.
func testProgress() io.Writer {
	if os.Getenv("BOARDHAND_LONG") != "" || os.Getenv("BOARDHAND_GUEST") != "" {
		return os.Stderr
	}
	return io.Discard
}

// liveTrace is where what the guest does is told while it is done.
func liveTrace() io.Writer {
	if os.Getenv("BOARDHAND_GUEST") != "" {
		return os.Stderr
	}
	return io.Discard
}

// guestSeeds are the games to play: three; many with BOARDHAND_LONG; one again,
// or several from a seed ("17+5"), with BOARDHAND_GUEST.
func guestSeeds(t *testing.T) (out []uint64) {
	n, first := 3, uint64(1) // the same every time: a gate fails for what has changed
	if os.Getenv("BOARDHAND_LONG") != "" {
		n, first = 200, rand.Uint64()%1e9
	}
	if text := os.Getenv("BOARDHAND_GUEST"); text != "" {
		from, many, _ := strings.Cut(text, "+")
		k, err := strconv.ParseUint(from, 10, 64)
		if err != nil {
			t.Fatalf("BOARDHAND_GUEST is a seed, or a seed and how many, like 17+5; got %q", text)
		}
		if first, n = k, 1; many != "" {
			if n, err = strconv.Atoi(many); err != nil {
				t.Fatalf("BOARDHAND_GUEST is a seed, or a seed and how many, like 17+5; got %q", text)
			}
		}
	}
	for i := range n {
		out = append(out, first+uint64(i))
	}
	t.Logf("seeds from %d", first)
	return out
}
