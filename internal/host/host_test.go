// SPDX-License-Identifier: Apache-2.0

package host

import (
	"net/http"
	"net/http/httptest"
	"slices"
	"strings"
	"testing"

	"boardhand/internal/carry/plan"
	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/notice"
	"boardhand/internal/table"
	"boardhand/internal/table/journal"
	"boardhand/internal/table/places"
	"boardhand/internal/web"
)

// at sets a host to a position in which the guest is to move.
func (h *Host) at(pos chess.Position) {
	h.pos, h.standing, h.hand = pos, places.StandingOf(pos), newHand()
	h.registry = newRegistry(h.o.Rig, h.standing)
}

// byHand does "e1g1 d5-" as the visitor's hand, without a twin.
func (h *Host) byHand(t *testing.T, acts string) {
	t.Helper()
	for _, act := range strings.Fields(acts) {
		to := chess.NoSquare
		if len(act) == 4 {
			to = sq(act[2:])
		}
		if err := h.hand.move(h.standing, sq(act[:2]), to); err != nil {
			t.Fatal(err)
		}
	}
	h.acted = true
}

func buttons(h *Host) string {
	var out []string
	for _, o := range h.offers() {
		out = append(out, o.Text)
	}
	return strings.Join(out, ", ")
}

// What is said to a visitor and asked of them, wherever their hand has got to.
func TestHostSaysWhatIsLeftToBeDone(t *testing.T) {
	const castles = "4k3/8/8/8/8/8/8/R3K2R w KQ - 0 1"
	mend := notice.Notice{Kind: notice.PleaseMend, Text: "No legal move explains it."}
	for _, c := range []struct {
		desc, fen, done string
		notice          notice.Notice
		says, wanted    string
		button          bool
	}{
		{"the move alone", castles, "h1f1", notice.Notice{Kind: notice.YourMove, Text: "Your move."}, "Your move.", "", false},
		{"castling begun", castles, "e1g1", notice.Notice{Kind: notice.YourMove, Text: "Your move."}, "You are castling: now put the rook from h1 on f1.", "h1f1", false},
		{"castling begun and seen", castles, "e1g1", mend, "You are castling: now put the rook from h1 on f1.", "h1f1", true},
		{"castling done, not seen yet", castles, "e1g1 h1f1", mend, looking, "", true},
		{"not legal", castles, "a1b3", mend, "That is not a legal move. Please put the white rook back on a1, or play another move.", "", true},
		{"a piece taken away", castles, "a1-", mend, "No legal move explains it.", "", true},
		{"a piece taken away that no move begins with", "4k3/4p3/8/8/8/8/8/R3K2R w KQ - 0 1", "e7-", mend, "That is not a legal move. Please put the black pawn back on e7, or play another move.", "", true},
		{"put back", castles, "a1b3 b3a1", mend, looking, "", false},
		{"a pawn on its last rank", "4k3/P7/8/8/8/8/8/4K3 w - - 0 1", "a7a8", mend, "Your pawn has reached a8: exchange it for the piece it becomes.", "", true},
	} {
		h, _ := visitorHost(t)
		h.at(positionOf(t, c.fen))
		h.notice = c.notice
		h.notice.FEN = c.fen
		h.byHand(t, c.done)
		text, acts := h.situation()
		got := ""
		for _, w := range Wanted(acts) {
			got += w.From + w.To
		}
		if text != c.says || got != c.wanted {
			t.Errorf("%s: says %q and wants %q; want %q and %q", c.desc, text, got, c.says, c.wanted)
		}
		if has := strings.Contains(buttons(h), "Put it back for me"); has != c.button {
			t.Errorf("%s: a button to put it back: %v, want %v", c.desc, has, c.button)
		}
	}
}

// While moves are taken back, the guest is told which piece goes where.
func TestHostSaysHowTheBoardWas(t *testing.T) {
	h, _ := visitorHost(t)
	after := positionOf(t, "4k3/8/8/8/8/8/8/R4RK1 b - - 1 1")
	h.at(after)
	h.state = journal.Undoing
	h.notice = notice.Notice{Kind: notice.PleaseMend, Text: "Please set the board as it was: I see a change on f1 and h1.", FEN: "4k3/8/8/8/8/8/8/R3K2R w KQ - 0 1"}
	h.byHand(t, "g1e1")
	if text, _ := h.situation(); text != "Please put the white rook back on h1." {
		t.Errorf("says %q", text)
	}
	if !strings.Contains(buttons(h), "Put it back for me") {
		t.Errorf("buttons: %s", buttons(h))
	}
}

// Once the carriage moves nobody is asked to reach in, and the pieces named on
// buttons are those of the notice.
func TestHostAsksNobodyToReachUnderTheCarriage(t *testing.T) {
	h, _ := visitorHost(t)
	h.at(positionOf(t, "r1bqkbnr/pppQpppp/2n5/8/8/8/PPPP1PPP/RNB1KBNR b KQkq - 0 3"))
	h.state, h.entered = journal.Carrying, true
	h.See(table.Event{Notice: &notice.Notice{Kind: notice.Wait, Text: "I play bishop from c8 takes the queen on d7. Hands off, please."}})
	h.See(table.Event{State: journal.Removal, Text: "asked"})
	queen, _ := chess.PieceLettered("Q")
	h.See(table.Event{Notice: &notice.Notice{Kind: notice.PleaseTake, Text: "Please take the white queen off d7.", Acts: []notice.Act{{Piece: queen, From: sq("d7"), To: chess.NoSquare}}}})
	text, acts := h.situation()
	if got := Wanted(acts); len(got) != 1 || got[0].Piece != "Q" || h.handsOff() != nil {
		t.Fatalf("wanted %v, hands off: %v", got, h.handsOff())
	}
	if text != "Please take the white queen off d7." {
		t.Errorf("says %q", text)
	}
	h.See(table.Event{State: journal.Carrying, Text: "done; going on"})
	h.See(table.Event{Step: &plan.Step{Do: plan.Travel, Path: []frame.Spot[frame.Board]{{}, {X: 0.1}}}})
	text, acts = h.situation()
	if len(acts) > 0 || h.handsOff() == nil || text != "Thank you. I play bishop from c8 takes the queen on d7. Hands off, please." {
		t.Errorf("says %q, wants %v, hands off: %v", text, acts, h.handsOff())
	}
	h.See(table.Event{State: journal.Verifying, Text: "carried"})
	if text, acts := h.situation(); len(acts) > 0 || strings.Contains(text, "queen off d7") {
		t.Errorf("asks again: %q %v", text, acts)
	}
}

func post(t *testing.T, server *web.Server, path, body string) (int, string) {
	t.Helper()
	r := httptest.NewRequest(http.MethodPost, "/api/"+path, strings.NewReader(body))
	r.Host = "127.0.0.1:8640"
	r.Header.Set("Content-Type", "application/json")
	w := httptest.NewRecorder()
	server.Handler().ServeHTTP(w, r)
	return w.Code, w.Body.String()
}

// A resume is taken only while one is awaited, from whichever route.
func TestHostTakesAResumeOnlyWhenAwaited(t *testing.T) {
	h, server := visitorHost(t)
	h.See(table.Event{State: journal.Guesting, Text: "your turn", Ways: []journal.RequestKind{journal.RequestBack}})
	for path, body := range map[string]string{"resume": "{}", "request": `{"for":"resume"}`} {
		if code, text := post(t, server, path, body); code != http.StatusConflict || !strings.Contains(text, "nothing waits") {
			t.Errorf("%s: %d %s", path, code, text)
		}
	}
	h.See(table.Event{State: journal.Trouble, Text: "stuck", Ways: []journal.RequestKind{journal.RequestResume}})
	if !h.awaits() || !strings.Contains(buttons(h), "Resume") {
		t.Errorf("no way on; buttons: %s", buttons(h))
	}
}

// A hint is shown while it is the guest's move, and then offers the whole of it; the
// next sentence takes it away.
func TestHostShowsAHint(t *testing.T) {
	h, _ := visitorHost(t)
	var shown web.Event
	h.Publish = func(e web.Event) { shown = e }
	h.See(table.Event{State: journal.Guesting, Text: "your turn", Ways: []journal.RequestKind{journal.RequestHint}})
	for _, c := range []struct {
		n      notice.Notice
		hint   []string
		button string
	}{
		{notice.Notice{Kind: notice.Hint, Text: "Look at your knight on g1.", Squares: []chess.Square{sq("g1")}}, []string{"g1"}, "Tell me the move"},
		{notice.Notice{Kind: notice.Hint, Text: "I would play knight from g1 to f3.", Squares: []chess.Square{sq("g1"), sq("f3")}}, []string{"g1", "f3"}, "A hint"},
		{notice.Notice{Kind: notice.Wait, Text: "I am thinking."}, []string{}, "A hint"},
	} {
		h.See(table.Event{Notice: &c.n})
		if shown.Sentence != c.n.Text || !slices.Equal(shown.Hint, c.hint) || shown.Hint == nil || buttons(h) != c.button {
			t.Errorf("%q: shown %q with %v, button %q", c.n.Text, shown.Sentence, shown.Hint, buttons(h))
		}
	}
}

// While a person is asked to set up many pieces, the plan shows where they are to stand.
func TestHostShowsWhatIsToBeSetUp(t *testing.T) {
	const to = "4k3/8/8/8/8/8/8/4K2R w K - 0 1"
	h, _ := visitorHost(t)
	h.at(positionOf(t, "4k3/8/8/8/8/8/8/4K3 w - - 0 1"))
	for _, c := range []struct {
		in   journal.State
		want []web.Phantom
	}{{journal.Arranging, []web.Phantom{{Piece: "R", Square: "h1"}}}, {journal.Guesting, []web.Phantom{}}} {
		h.state, h.notice = c.in, notice.Notice{Kind: notice.PleaseMend, FEN: to}
		if got := h.phantoms(); !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", c.in, got, c.want)
		}
	}
}

// What the table says may be asked for is what the page offers.
func TestHostOffersTheWaysOfTheTable(t *testing.T) {
	h, _ := visitorHost(t)
	h.plies = 2
	all := []journal.RequestKind{journal.RequestAfresh, journal.RequestBack, journal.RequestDraw, journal.RequestNew, journal.RequestPlayed,
		journal.RequestPosition, journal.RequestResign, journal.RequestResume, journal.RequestRight}
	h.See(table.Event{Ways: all})
	offers := h.offers()
	if len(offers) != len(all) {
		t.Fatalf("%d offers for %d ways", len(offers), len(all))
	}
	for _, o := range offers {
		if !slices.Contains(all, journal.RequestKind(o.Request.For)) || o.Text == "" {
			t.Errorf("offer %+v", o)
		}
		if o.Request.For == web.ForBack && o.Request.Plies != 2 {
			t.Errorf("the guest's move is taken back with %d plies; the machine has answered it", o.Request.Plies)
		}
	}
	h.See(table.Event{Ways: []journal.RequestKind{}})
	if got := buttons(h); got != "" {
		t.Errorf("nothing may be asked for, but there is: %s", got)
	}
}

func TestRequestsAreTranslated(t *testing.T) {
	pos := chess.Start()
	for _, c := range []struct {
		ask  web.Request
		want journal.Request
		err  string
	}{
		{ask: web.Request{For: web.ForPlayed, Move: "e2e4"}, want: journal.Request{Kind: journal.RequestPlayed, Move: chess.MakeMove(sq("e2"), sq("e4"), chess.NoKind)}},
		{ask: web.Request{For: web.ForPlayed}, want: journal.Request{Kind: journal.RequestPlayed}},
		{ask: web.Request{For: web.ForPlayed, Move: "e2e5"}, err: "not a legal move"},
		{ask: web.Request{For: web.ForPosition, FEN: "nonsense"}, err: "that position cannot be"},
		{ask: web.Request{For: web.ForPosition, FEN: "4k3/8/8/8/8/8/8/4K3 w - - 0 1"}, want: journal.Request{Kind: journal.RequestPosition, FEN: "4k3/8/8/8/8/8/8/4K3 w - - 0 1"}},
		{ask: web.Request{For: web.ForNew, Side: "white", Time: 1.5}, want: journal.Request{Kind: journal.RequestNew, Side: "white", Time: 1500e6}},
		{ask: web.Request{For: web.ForStrength, Strength: "chalk"}, want: journal.Request{Kind: journal.RequestStrength, Strength: "chalk"}},
		{ask: web.Request{For: web.ForBack, Plies: 2}, want: journal.Request{Kind: journal.RequestBack, Plies: 2}},
	} {
		got, err := requestOf(c.ask, pos)
		if (err == nil) != (c.err == "") || err != nil && !strings.Contains(err.Error(), c.err) || err == nil && got != c.want {
			t.Errorf("%+v: got %+v, %v", c.ask, got, err)
		}
	}
}

// A visitor's hand is refused with a reason; in a game with the twin's guest it
// says how to play oneself.
func TestHostSaysWhyAHandIsRefused(t *testing.T) {
	h, server := visitorHost(t)
	server.Publish(web.Event{Visitor: h.visitorSeat()})
	h.moving = true
	if code, text := post(t, server, "hand", `{"from":"e2","to":"e4"}`); code != http.StatusConflict || !strings.Contains(text, "the carriage is at work") {
		t.Errorf("%d %s", code, text)
	}
	h.moving = false
	if code, text := post(t, server, "hand", `{"from":"e4","to":"e5"}`); code != http.StatusConflict || !strings.Contains(text, "no piece stands on e4") {
		t.Errorf("%d %s", code, text)
	}
	h.o.Seat = Simulated
	if v := h.visitorSeat(); v.Plays || !strings.Contains(v.Why, "play --visitor") {
		t.Errorf("%+v", v)
	}
}
