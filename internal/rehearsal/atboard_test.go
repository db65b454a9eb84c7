// SPDX-License-Identifier: Apache-2.0

//go:build linux

package rehearsal_test

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"boardhand/internal/app"
	"boardhand/internal/chess"
	"boardhand/internal/table/places"
	"boardhand/internal/unit"
	"boardhand/internal/web"
)

// player is a guest at a real board who has the page open: they move the pieces with
// their hands, and tell and ask what there is through the page's requests.
type player struct {
	plant *plant
	url   string
	state map[string]json.RawMessage
	now   web.Event // of the page: the state, decoded
	plan  []string  // the moves that are to be played, UCI form
	at    string    // the position that was last moved in
	said  []string  // sentences, each once
	done  string    // the sentence whose wishes were last granted
	goes  int       // times it was let go on
	seen  devices
}

// A whole short game at a board that is real to the program, as its user plays it: a
// controller on a serial device, a camera on the network, the page for all that is said.
// The plug is pulled in the middle of a carry and put in again under another name; the
// game goes on from where it stood, and ends as the guest says.
func TestGameAtTheBoard(t *testing.T) {
	if testing.Short() {
		t.Skip("whole games are played without -short")
	}
	p := newPlant(t)
	dir := t.TempDir()
	rigFile, games := filepath.Join(dir, "rig.toml"), filepath.Join(dir, "games")
	controller := fmt.Sprintf("kind = \"gcode\"\nport = %q\n", p.port)
	if err := os.WriteFile(rigFile, []byte(p.rigText(controller, p.camera.URL+"/")), 0o644); err != nil {
		t.Fatal(err)
	}
	out, pipe := io.Pipe()
	ended := make(chan int, 1)
	var complaints bytes.Buffer
	go func() {
		ended <- app.Main([]string{"play", rigFile, "--games", games, "--addr", "127.0.0.1:0", "--leave"}, pipe, &complaints)
		_ = pipe.Close()
	}()
	g := &player{plant: p, url: address(t, out), state: map[string]json.RawMessage{}, plan: []string{"g2g3", "f1g2", "h2h3"}, seen: devices{}}
	g.play(t)
	if code := <-ended; code != 0 {
		t.Errorf("it ended with %d: %s", code, complaints.String())
	}
	select {
	case <-p.pulled:
	default:
		t.Error("the plug was not pulled: nothing was put to the test")
	}
	told := slices.ContainsFunc(g.said, func(s string) bool { return strings.Contains(s, p.port+" is not there: plug the controller in") })
	if g.goes == 0 || !told || !strings.Contains(complaints.String(), "the wire to the controller broke") {
		t.Errorf("let go on %d times; said %q, complained %q", g.goes, g.said, complaints.String())
	}
	g.compare(t, games)
	g.seen.check(t, p)
}

// address is where the pages are, as the program says.
func address(t *testing.T, out io.Reader) string {
	t.Helper()
	s := bufio.NewScanner(out)
	for s.Scan() {
		if url := regexp.MustCompile(`http://127\.0\.0\.1:\d+/`).FindString(s.Text()); url != "" {
			go func() { _, _ = io.Copy(io.Discard, out) }()
			return url
		}
	}
	t.Fatal("it serves no pages")
	return ""
}

// mostBeats is how many lines of heartbeats the page may be sent in a row, three to a beat: while the
// machine carries or waits for a picture a dozen beats go by.
const mostBeats = 3 * 120

// play keeps the page open until the game is over.
func (g *player) play(t *testing.T) {
	t.Helper()
	r, err := http.Get(g.url + "events")
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = r.Body.Close() }()
	s := bufio.NewScanner(r.Body)
	s.Buffer(nil, 4<<20)
	beats := 0
	for name := ""; s.Scan() && g.now.Result == ""; {
		if n, ok := strings.CutPrefix(s.Text(), "event: "); ok {
			name = n
		}
		text, ok := strings.CutPrefix(s.Text(), "data: ")
		if beats++; !ok {
			continue
		}
		if beats > mostBeats {
			t.Fatalf("nothing happens any more; said %q, the page shows %+v", g.said, g.now)
		}
		if name != "beat" {
			beats = 0
			g.take(t, name == "snapshot", []byte(text))
			g.seen.look()
			g.act(t)
		}
	}
	if g.now.Result == "" {
		t.Fatalf("the page went before the game had ended (%v); said %q", s.Err(), g.said)
	}
}

// take lays what the page is told over what it shows.
func (g *player) take(t *testing.T, isWhole bool, text []byte) {
	t.Helper()
	e := map[string]json.RawMessage{}
	err := json.Unmarshal(text, &e)
	if isWhole {
		clear(g.state)
	}
	if e["sentence"] != nil {
		delete(g.state, "wanted") // which goes with the sentence
	}
	for _, k := range []string{"sentence", "state", "fen", "offers", "wanted", "moves", "result"} {
		if e[k] != nil {
			g.state[k] = e[k]
		}
	}
	all, _ := json.Marshal(g.state)
	g.now = web.Event{}
	if err != nil || json.Unmarshal(all, &g.now) != nil {
		t.Fatalf("%v: %s", err, all)
	}
	if n := len(g.said); g.now.Sentence != "" && (n == 0 || g.said[n-1] != g.now.Sentence) {
		g.said, g.done = append(g.said, g.now.Sentence), ""
	}
}

// act is what the guest does about what the page shows.
func (g *player) act(t *testing.T) {
	t.Helper()
	isOffered := func(what string) bool {
		return slices.ContainsFunc(g.now.Offers, func(o web.Offer) bool { return o.Request.For == what })
	}
	switch {
	case isOffered(web.ForResume):
		g.letGoOn(t)
	case len(g.now.Wanted) > 0 && g.done != g.now.Sentence:
		g.done = g.now.Sentence
		for _, a := range g.now.Wanted {
			g.grant(t, a)
		}
	case g.now.State != web.Guest || g.now.FEN == "" || g.now.FEN == g.at:
	case len(g.plan) == 0:
		g.at = g.now.FEN
		g.ask(t, "request", web.Request{For: web.ForResign}, http.StatusOK)
	default:
		pos, err := chess.ParseFEN(g.now.FEN)
		if err != nil {
			t.Fatal(err)
		}
		m, err := pos.ParseUCI(g.plan[0])
		if err == nil {
			err = g.plant.world.Visitor().MovePiece(m.From(), m.To())
		}
		if err != nil {
			t.Fatal(err)
		}
		g.at, g.plan = g.now.FEN, g.plan[1:]
	}
}

// letGoOn puts the plug in again, if it is out, and presses Resume.
func (g *player) letGoOn(t *testing.T) {
	t.Helper()
	select {
	case <-g.plant.pulled:
		if g.goes == 0 {
			g.plant.plugIn()
		}
	default:
	}
	g.goes++
	delete(g.state, "offers") // until the page offers it anew
	g.ask(t, "resume", struct{}{}, http.StatusOK)
}

// grant does with the pieces what the machine asks for: the one that is meant.
func (g *player) grant(t *testing.T, a web.Asked) {
	t.Helper()
	piece, err := chess.PieceLettered(a.Piece)
	from := g.meant(piece, a.To)
	hand := g.plant.world.Visitor()
	if err == nil && from != chess.NoSquare {
		err = hand.MovePiece(from, chess.NoSquare)
	}
	if to := a.To; err == nil && to != "off" {
		err = hand.PutPiece(piece, chess.SquareAt(int(to[0]-'a'), int(to[1]-'1')))
	}
	if err != nil {
		t.Fatalf("%+v: %v", a, err)
	}
}

// meant is where the piece stands that the machine speaks of: the one that stands where it is to
// go, though not in the middle of it, else the one that stands worst.
func (g *player) meant(piece chess.Piece, to string) chess.Square {
	from, worst := chess.NoSquare, -1.0
	for _, p := range g.plant.world.Truth().Pieces {
		if p.Piece != piece || p.Square == chess.NoSquare {
			continue
		}
		if p.Square.String() == to {
			return p.Square
		}
		if d := p.At.Distance((places.Layout{Square: unit.MM(40)}).Centre(p.Square)); d > worst {
			from, worst = p.Square, d
		}
	}
	return from
}

// ask does what a button of the page does.
func (g *player) ask(t *testing.T, route string, body any, want int) {
	t.Helper()
	data, err := json.Marshal(body)
	if err != nil {
		t.Fatal(err)
	}
	r, err := http.Post(g.url+"api/"+route, "application/json", bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = r.Body.Close() }()
	if text, _ := io.ReadAll(r.Body); r.StatusCode != want {
		t.Errorf("%s %s: %s %s", route, data, r.Status, text)
	}
}

// compare holds the game that was kept against what truly stands on the board.
func (g *player) compare(t *testing.T, games string) {
	t.Helper()
	var out, errs bytes.Buffer
	if code := app.Main([]string{"games", "pgn", "1", "--games", games}, &out, &errs); code != 0 {
		t.Fatalf("%d: %s", code, errs.String())
	}
	kept, err := chess.ReadPGN(out.String())
	if err != nil || len(kept) != 1 {
		t.Fatalf("%d games: %v", len(kept), err)
	}
	pos, truth := kept[0].Position(), g.plant.world.Truth()
	for q, piece := range truth.Squares {
		if want := pos.At(chess.Square(q)); piece != want {
			t.Errorf("on %v stands %v, the game has %v", chess.Square(q), piece, want)
		}
	}
	if c := truth.Counters; len(kept[0].Moves) != 6 || g.now.Result != "0-1" || c.Collisions+c.Toppled > 0 {
		t.Errorf("%d plies, %s, %+v\n%s", len(kept[0].Moves), g.now.Result, c, out.String())
	}
}
