// SPDX-License-Identifier: Apache-2.0

package app

import (
	"bufio"
	"encoding/json"
	"io"
	"net/http"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"boardhand/internal/store"
	"boardhand/internal/web"
)

// page is a browser with the House page open.
type page struct {
	t      *testing.T
	url    string
	events chan web.Event
	now    web.Event // the parts a test looks at
	said   []string
}

// visit opens the page of a program that has printed where its pages are.
func visit(t *testing.T, k *keyboard) *page {
	t.Helper()
	k.until("the pages:")
	p := &page{t: t, url: regexp.MustCompile(`http://[0-9.:]+/`).FindString(k.said.String()), events: make(chan web.Event, 1000)}
	r, err := http.Get(p.url + "events")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = r.Body.Close() })
	go func() {
		defer close(p.events)
		s := bufio.NewScanner(r.Body)
		s.Buffer(nil, 1<<20)
		for s.Scan() {
			var e web.Event
			if text, ok := strings.CutPrefix(s.Text(), "data:"); ok && json.Unmarshal([]byte(text), &e) == nil {
				p.events <- e
			}
		}
	}()
	return p
}

// until waits until the page shows something.
func (p *page) until(what string, shown func(web.Event) bool) {
	p.t.Helper()
	late := time.After(patienceFor)
	for !shown(p.now) {
		select {
		case e, ok := <-p.events:
			if !ok {
				p.t.Fatalf("the page was hung up on before %s; it said:\n%s", what, strings.Join(p.said, "\n"))
			}
			p.take(e)
		case <-late:
			p.t.Fatalf("the page never showed %s; it said:\n%s", what, strings.Join(p.said, "\n"))
		}
	}
}

// take brings the page up to date.
func (p *page) take(e web.Event) {
	if e.Sentence != "" {
		p.now.Sentence = e.Sentence
		p.said = append(p.said, e.Sentence)
	}
	if e.Wanted != nil {
		p.now.Wanted = e.Wanted
	}
	if e.Offers != nil {
		p.now.Offers = e.Offers
	}
	if e.State != "" {
		p.now.State = e.State
	}
	if e.Moves != nil {
		p.now.Moves = e.Moves
	}
	if e.Phantoms != nil {
		p.now.Phantoms = e.Phantoms
	}
	if e.Question != nil {
		p.now.Question = e.Question
	}
	if e.Hands != nil {
		p.now.Hands = e.Hands
	}
	if e.Running != nil {
		p.now.Running = e.Running
	}
	if e.Reading != nil {
		p.now.Reading = e.Reading
	}
	if e.Pieces != nil {
		p.now.Pieces = e.Pieces
	}
}

// press does what a button of the page does, and says what came back.
func (p *page) press(route string, body any) (status int, text string) {
	p.t.Helper()
	data, err := json.Marshal(body)
	if err != nil {
		p.t.Fatal(err)
	}
	r, err := postOnce(p.url+"api/"+route, data)
	if err != nil {
		p.t.Fatal(err)
	}
	defer func() { _ = r.Body.Close() }()
	back, _ := io.ReadAll(r.Body)
	return r.StatusCode, string(back)
}

// asks presses one of the buttons, which must be there.
func (p *page) asks(text string) {
	p.t.Helper()
	p.until("the button "+text, func(e web.Event) bool { return offered(e, text) != nil })
	if status, back := p.press("request", offered(p.now, text)); status != http.StatusOK {
		p.t.Fatalf("the button %q: %d %s", text, status, back)
	}
}

// handOf is what a page sends when its button for an act is pressed.
func handOf(a web.Asked) web.HandAct {
	act := web.HandAct{From: a.From, To: a.To}
	if a.From == web.Off {
		act.Piece = a.Piece
	}
	return act
}

func offered(e web.Event, text string) *web.Request {
	for _, o := range e.Offers {
		if o.Text == text {
			return &o.Request
		}
	}
	return nil
}

// stand counts the pieces of a kind on a square; "" is beside the board.
func stand(e web.Event, piece, square string) (n int) {
	for _, m := range e.Pieces {
		if m.Piece == piece && m.Square == square {
			n++
		}
	}
	return n
}

// The machine takes a piece and asks for it to be removed. The page shows it
// where it stands until it is off, after a break too; the visitor presses the
// button, the machine plays on, and the visitor moves a piece.
func TestVisitorRemovesAMan(t *testing.T) {
	whole(t)
	dir := keepGame(t, "", append(moves("e2e4", "d7d5", "e4d5"), store.Entry{At: time.Now(), State: "thinking", Decided: "d8d5"})...)
	play := []string{"play", "--games", dir, "--addr", "127.0.0.1:0", "--pace", "40", "--visitor", "--resume"}
	k := sit(t, play...)
	k.until("Please take the white pawn off d5.")
	k.kill()
	k = sit(t, play...)
	p := visit(t, k)
	p.until("what to take off", func(e web.Event) bool { return len(e.Wanted) == 1 })
	if on, off := stand(p.now, "P", "d5"), stand(p.now, "P", ""); on != 1 || off != 0 {
		t.Errorf("it still stands on d5; shown are %d there and %d beside the board", on, off)
	}
	if status, back := p.press("request", web.Request{For: web.ForArrange}); status != http.StatusConflict || !strings.Contains(back, "nothing is being asked") {
		t.Errorf("one piece has a button of its own, but setting all got %d %s", status, back)
	}
	if status, back := p.press("hand", handOf(p.now.Wanted[0])); status != http.StatusOK {
		t.Fatalf("the button: %d %s", status, back)
	}
	k.until("machine: Qxd5")
	p.until("the visitor's turn", func(e web.Event) bool { return e.State == web.Guest && len(e.Moves) == 4 && len(e.Wanted) == 0 })
	if on, off := stand(p.now, "q", "d5"), stand(p.now, "P", ""); on != 1 || off != 1 {
		t.Errorf("the queen is shown %d times on d5, the pawn %d times beside the board", on, off)
	}
	if status, back := p.press("hand", web.HandAct{From: "b1", To: "c3"}); status != http.StatusOK {
		t.Fatalf("the move: %d %s", status, back)
	}
	k.until("guest: Nc3")
}

// After the mate the machine carries its own pieces home and asks for the
// visitor's: one button sets them, and the next game begins.
func TestVisitorSetsThePiecesAsAsked(t *testing.T) {
	whole(t)
	dir := keepGame(t, "", append(moves("f2f3", "e7e5", "g2g4"), store.Entry{At: time.Now(), State: "thinking", Decided: "d8h4"})...)
	k := sit(t, "play", trayRig(t, "black"), "--games", dir, "--addr", "127.0.0.1:0", "--pace", "100", "--visitor", "--resume")
	p := visit(t, k)
	const asAsked = "Set the pieces as asked"
	p.until("the end of the game", func(e web.Event) bool { return e.State == web.Over })
	if offered(p.now, asAsked) != nil {
		t.Error("nothing is asked yet, but there is a button to do it")
	}
	p.asks("New game")
	p.until("what is asked", func(e web.Event) bool { return strings.HasPrefix(e.Sentence, "Please set up the white pieces") })
	p.asks(asAsked)
	k.until("game 2")
	p.until("the visitor's turn", func(e web.Event) bool { return e.State == web.Guest && len(e.Moves) == 0 })
	if offered(p.now, asAsked) != nil {
		t.Error("the pieces are set, but the button is still there")
	}
	if status, back := p.press("hand", web.HandAct{From: "e2", To: "e4"}); status != http.StatusOK {
		t.Fatalf("the move: %d %s", status, back)
	}
	k.until("guest: e4")
	k.kill()
	got, _ := retoldFrom(t, dir, 2)
	if len(got.Game.Moves) != 1 || got.Game.Moves[0].String() != "e2e4" {
		t.Errorf("game 2 is %v", got.Game.Moves)
	}
}

// Castling with the king first: the plan shows the king where it stands, the
// page asks for the rook, and the act for it waits for the hand. Then a rook
// goes where no rule allows: it is shown there, and one button puts it back.
func TestVisitorFindsAWayOn(t *testing.T) {
	whole(t)
	dir := keepGame(t, "", moves("e2e4", "e7e5", "g1f3", "b8c6", "f1c4", "f8c5")...)
	k := sit(t, "play", "--games", dir, "--addr", "127.0.0.1:0", "--pace", "40", "--visitor", "--resume")
	p := visit(t, k)
	p.until("the visitor's turn", func(e web.Event) bool { return e.State == web.Guest && e.Hands != nil && *e.Hands })
	if status, back := p.press("hand", web.HandAct{From: "e1", To: "g1"}); status != http.StatusOK {
		t.Fatalf("the king: %d %s", status, back)
	}
	p.until("the rook asked for", func(e web.Event) bool {
		return len(e.Wanted) == 1 && e.Wanted[0] == web.Asked{From: "h1", To: "f1", Piece: "R"}
	})
	if stand(p.now, "K", "g1") != 1 || len(p.now.Phantoms) != 1 || p.now.Phantoms[0].Square != "e1" {
		t.Errorf("the king is not shown where it stands: %v", p.now.Phantoms)
	}
	if status, back := p.press("hand", handOf(p.now.Wanted[0])); status != http.StatusOK { // the hand is still busy with the king
		t.Fatalf("the rook: %d %s", status, back)
	}
	k.until("guest: O-O")
	p.until("the visitor's next turn", func(e web.Event) bool { return e.State == web.Guest && len(e.Moves) == 8 && *e.Hands })
	if status, back := p.press("hand", web.HandAct{From: "a1", To: "b3"}); status != http.StatusOK {
		t.Fatalf("the other rook: %d %s", status, back)
	}
	const button = "Put it back for me"
	p.until("the way back", func(e web.Event) bool { return offered(e, button) != nil })
	if stand(p.now, "R", "b3") != 1 || len(p.now.Phantoms) != 1 || p.now.Phantoms[0] != (web.Phantom{Piece: "R", Square: "a1"}) {
		t.Errorf("the rook is not shown where it stands: %v", p.now.Phantoms)
	}
	p.asks(button)
	p.until("the rook at home", func(e web.Event) bool { return stand(e, "R", "a1") == 1 && len(e.Phantoms) == 0 })
	asked := func(e web.Event) bool { return e.Question != nil && e.Question.Text != "" }
	p.until("that the reader has seen it", func(e web.Event) bool { return e.State == web.Guest || asked(e) })
	if q := p.now.Question; asked(p.now) { // it may stand elsewhere in its square than before
		if status, back := p.press("answer", map[string]any{"n": q.N, "choice": slices.Index(q.Choices, "nothing was played")}); status != http.StatusOK {
			t.Fatalf("the answer: %d %s", status, back)
		}
		p.until("the visitor's turn again", func(e web.Event) bool { return e.State == web.Guest })
	}
	if status, back := p.press("hand", web.HandAct{From: "d2", To: "d3"}); status != http.StatusOK {
		t.Fatalf("the move: %d %s", status, back)
	}
	k.until("guest: d3")
}

// keepFrom keeps a game that begins with a position, the visitor to move.
func keepFrom(t *testing.T, fen string) string {
	t.Helper()
	dir := t.TempDir()
	s, err := store.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = s.Close() }()
	if _, err := s.Begin(t.Context(), store.Game{Started: time.Now(), Machine: "black", Start: fen}); err != nil {
		t.Fatal(err)
	}
	return dir
}

// A pawn reaches its last rank: it stays there on the page until it is
// exchanged, and the game goes on with what it became.
func TestVisitorPromotesAPawn(t *testing.T) {
	whole(t)
	dir := keepFrom(t, "4k3/P7/8/8/8/8/8/4K3 w - - 0 1")
	k := sit(t, "play", "--games", dir, "--addr", "127.0.0.1:0", "--pace", "40", "--visitor", "--resume")
	p := visit(t, k)
	p.until("the visitor's turn", func(e web.Event) bool { return e.State == web.Guest && e.Hands != nil && *e.Hands })
	if status, back := p.press("hand", web.HandAct{From: "a7", To: "a8"}); status != http.StatusOK {
		t.Fatalf("the pawn: %d %s", status, back)
	}
	asks := func(e web.Event) bool {
		return strings.Contains(e.Sentence, "Your pawn has reached a8") || e.Question != nil && e.Question.Text != ""
	}
	p.until("that the pawn has arrived", asks)
	if stand(p.now, "P", "a8") != 1 {
		t.Error("the pawn is not shown on a8")
	}
	queen := func(q *web.Question) (int, string) {
		i := slices.IndexFunc(q.Choices, func(c string) bool { return strings.HasSuffix(c, "queen") })
		return p.press("answer", map[string]any{"n": q.N, "choice": i})
	}
	isAsked := func(e web.Event) bool { return e.Question != nil && e.Question.Text != "" }
	status, back := 0, ""
	if isAsked(p.now) {
		status, back = queen(p.now.Question)
	} else {
		status, back = p.press("hand", web.HandAct{From: web.Off, To: "a8", Piece: "Q"})
		p.until("what has been seen of the exchange", func(e web.Event) bool { return isAsked(e) || len(e.Moves) == 1 })
		if isAsked(p.now) { // the reader is in doubt what it became
			status, back = queen(p.now.Question)
		}
	}
	if status != http.StatusOK {
		t.Fatalf("the exchange: %d %s; asked %+v", status, back, p.now.Question)
	}
	k.until("guest: a8=Q+")
	p.until("the queen", func(e web.Event) bool { return stand(e, "Q", "a8") == 1 && stand(e, "P", "a8") == 0 })
}
