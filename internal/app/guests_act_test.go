// SPDX-License-Identifier: Apache-2.0

package app

import (
	"fmt"
	"io"
	"math/rand/v2"
	"net/http"
	"slices"
	"strings"

	"boardhand/internal/chess"
	"boardhand/internal/host"
	"boardhand/internal/notice"
	"boardhand/internal/table/places"
	"boardhand/internal/web"
)

// guest plays at random through a page: driven by what the page shows, by the
// page's requests only. Whatever odd was done is put right by the ways that the
// page offers.
type guest struct {
	chance *rand.Rand
	page   *viewer
	second *viewer // open now and then
	oddity float64 // share of the decisions that are odd

	plan    []web.HandAct // of the move being made
	slow    bool          // the rest is left until the page asks for it
	kind    chess.Kind    // what a pawn is to become
	until   uint64        // picture before which the hand rests
	odd     int           // odd things left until the game gets on
	acts    int           // since the game got on
	seen    uint64        // pictures when it got on
	mark    string        // the game as it was then
	helped  int           // ways out tried since then
	back    int           // moves taken back so far
	again   int           // new games so far
	late    uint64        // number of a question that was settled
	live    io.Writer     // the trace as it comes
	trace   []string
	counted map[string]int
}

// Bounds on what may pass before the game gets on: a guest is sober after so
// many odd things; a sober one tries a way out every so many pictures, and
// after so many ways out the game is stuck.
const (
	mostOdd      = 3
	outAfter     = 30 // pictures
	mostOuts     = 6
	mostGuestDid = 400 // acts, in states without pictures too
)

func (g *guest) note(format string, a ...any) {
	line := fmt.Sprintf("[%d] ", g.page.now.Picture) + fmt.Sprintf(format, a...)
	g.trace = append(g.trace, line)
	_, _ = fmt.Fprintln(g.live, line)
}

func (g *guest) count(what string) { g.counted[what]++ }

// does posts something from the page, or now and then from the second one.
func (g *guest) does(what, route string, body any) (bool, error) {
	from := g.page
	if g.second != nil && g.chance.IntN(3) == 0 {
		from, what = g.second, what+" (second viewer)"
	}
	g.acts++
	status, said, err := from.post(route, body)
	g.note("%s: %s %+v: %d %s   (state %s, %q)", what, route, body, status, said, g.page.now.State, g.page.now.Sentence)
	if err != nil {
		return false, err
	}
	g.count(what)
	if status >= 500 || status != http.StatusOK && !strings.Contains(said, `"error":"`) {
		return false, fmt.Errorf("%s %+v: %d %s", route, body, status, said)
	}
	return status == http.StatusOK, nil
}

// rest leaves the table alone for some pictures.
func (g *guest) rest(pictures int) { g.until = g.page.now.Picture + uint64(pictures) }

func (g *guest) chances(p float64) bool { return g.chance.Float64() < p }

// gets notes whether the game has got on, and fails when it does not.
func (g *guest) gets() error {
	e := g.page.now
	if mark := fmt.Sprint(e.FEN, e.Moves, e.Result, e.State == web.Over); mark != g.mark {
		g.mark, g.acts, g.seen, g.helped, g.odd = mark, 0, e.Picture, 0, g.chance.IntN(mostOdd+1)
		g.plan = nil
		g.note("the game: %v %s", e.Moves, e.FEN)
	}
	if g.acts > mostGuestDid || g.helped > mostOuts {
		return fmt.Errorf("the game does not get on: %d acts, %d pictures, %d ways out tried", g.acts, e.Picture-g.seen, g.helped)
	}
	return nil
}

// step does one thing, or says that there is nothing to do.
func (g *guest) step() (did bool, err error) {
	e := g.page.now
	idle := e.State != web.Trouble && e.State != web.Over && !g.page.isAsked()
	if g.odd > 0 && g.chances(g.oddity) {
		if did, err := g.doOdd(); did || err != nil {
			g.odd--
			return did, err
		}
	}
	switch {
	case g.page.isAsked():
		return g.answers()
	case e.State == web.Trouble:
		if !g.page.offers(web.ForResume) {
			return false, nil
		}
		_, err := g.does("resume", "resume", struct{}{})
		return g.waitsFor(err, func(e web.Event) bool { return e.State != web.Trouble || !offersIn(e, web.ForResume) })
	case idle && e.Picture < g.until:
		return false, nil
	case g.isLate():
		return g.wayOut()
	case !g.page.handsMay():
		return false, nil
	}
	return g.cooperates()
}

func offersIn(e web.Event, what string) bool {
	return slices.ContainsFunc(e.Offers, func(o web.Offer) bool { return o.Request.For == what })
}

// waitsFor lets the page show what was just done.
func (g *guest) waitsFor(err error, shown func(web.Event) bool) (bool, error) {
	for err == nil && !shown(g.page.now) {
		err = g.page.wait()
	}
	return true, err
}

// hands does one act and rests until it has been seen.
func (g *guest) hands(what string, a web.HandAct, rest int) (bool, error) {
	ok, err := g.does(what, "hand", a)
	if err != nil || !ok {
		g.rest(2)
		return true, err
	}
	g.rest(rest)
	to, errTo := host.SquareOf(a.To)
	from, errFrom := host.SquareOf(a.From)
	before := g.page.now.Picture
	return g.waitsFor(errOf(errTo, errFrom), func(e web.Event) bool { // shown at once, or the table was quicker
		b := g.page.board()
		return (from >= chess.NoSquare || b[from] == chess.NoPiece) && (to >= chess.NoSquare || b[to] != chess.NoPiece) || e.Picture > before+4 || g.page.isAsked()
	})
}

func errOf(all ...error) error {
	for _, err := range all {
		if err != nil {
			return err
		}
	}
	return nil
}

// cooperates does what is asked, puts right what is wrong, or moves.
func (g *guest) cooperates() (bool, error) {
	e, now := g.page.now, g.page.board()
	pos, err := g.page.position()
	if err != nil {
		return false, err
	}
	switch {
	case len(g.plan) > 0 && !g.slow && (e.State == web.Guest || e.State == web.Reading):
		a := g.plan[0]
		g.plan = g.plan[1:]
		return g.hands("goes on with the move", a, 1+g.chance.IntN(4))
	case g.page.offers(web.ForArrange) && (len(e.Wanted) == 0 || g.chances(0.5)):
		_, err := g.does("sets the pieces by the button", "request", web.Request{For: web.ForArrange})
		g.rest(4)
		return true, err
	case len(e.Wanted) > 0:
		g.plan = nil
		return g.hands("does what is asked", handOf(e.Wanted[g.chance.IntN(len(e.Wanted))]), 3)
	case strings.Contains(e.Sentence, "exchange it for"):
		return g.exchanges(pos, now)
	case e.State != web.Guest && e.State != web.Reading:
		return false, nil
	case now == places.StandingOf(pos).Board:
		return g.moves(pos)
	case host.HalfwayTo(pos, now).IsSome:
		return g.finishes(pos, now)
	}
	return g.putsBack(now, places.StandingOf(pos).Board)
}

// putsBack does the first act on the way back to the game's position.
func (g *guest) putsBack(now, want board) (bool, error) {
	g.plan = nil
	all := host.Acts(now, want)
	for _, a := range all { // a square that is still taken comes later
		if a.To >= chess.NoSquare || now[a.To] == chess.NoPiece {
			return g.hands("puts back", actOf(a), 2+g.chance.IntN(3))
		}
	}
	return g.hands("puts back", web.HandAct{From: all[0].To.String(), To: web.Off}, 2)
}

func actOf(a notice.Act) web.HandAct { return handOf(host.Wanted([]notice.Act{a})[0]) }

// finishes a move that stands half made; one that stands whole is being read.
func (g *guest) finishes(pos chess.Position, now board) (bool, error) {
	on := host.HalfwayTo(pos, now)
	if len(on.Left) == 0 && on.Move != 0 {
		return false, nil
	}
	if on.Move == 0 {
		return g.putsBack(now, places.StandingOf(pos).Board)
	}
	if on.Move.Promotion() != chess.NoKind && now[on.Move.To()].Kind() == chess.Pawn {
		return g.exchanges(pos, now)
	}
	return g.hands("finishes the move", actOf(on.Left[0]), 3)
}

// exchanges a pawn that has reached its last square.
func (g *guest) exchanges(pos chess.Position, now board) (bool, error) {
	side := pos.SideToMove()
	for q, p := range now {
		if s := chess.Square(q); p == chess.MakePiece(side, chess.Pawn) && (s.Rank() == 0 || s.Rank() == 7) {
			return g.hands("exchanges the pawn", web.HandAct{From: web.Off, To: s.String(), Piece: string(chess.MakePiece(side, g.kind).Letter())}, 3)
		}
	}
	return false, nil
}

// moves makes a legal move, in one of the ways in which people make it.
func (g *guest) moves(pos chess.Position) (bool, error) {
	if g.page.now.State != web.Guest || len(g.page.now.Legal) == 0 {
		return false, nil
	}
	m, err := pos.ParseUCI(g.chooses(pos).Move)
	if err != nil {
		return false, err
	}
	g.kind, g.slow = m.Promotion(), false
	if g.kind == chess.NoKind {
		g.kind = chess.Queen
	}
	how, plan := g.manner(pos, m)
	g.plan = plan[1:]
	g.note("chooses %s: %s", pos.SAN(m), how)
	return g.hands(how, plan[0], 1+g.chance.IntN(4))
}

// chooses a move: castling, promotion and en passant more often than others.
func (g *guest) chooses(pos chess.Position) web.Legal {
	var special []web.Legal
	for _, l := range g.page.now.Legal {
		m, err := pos.ParseUCI(l.Move)
		if err != nil {
			continue
		}
		_, at := pos.Captured(m)
		if pos.IsCastling(m) || m.Promotion() != chess.NoKind || at < chess.NoSquare && at != m.To() {
			special = append(special, l)
		}
	}
	if len(special) > 0 && g.chances(0.7) {
		return special[g.chance.IntN(len(special))]
	}
	return g.page.now.Legal[g.chance.IntN(len(g.page.now.Legal))]
}

// manner is how a move is made: its acts, in an order.
func (g *guest) manner(pos chess.Position, m chess.Move) (string, []web.HandAct) {
	main := web.HandAct{From: m.From().String(), To: m.To().String()}
	victim, at := pos.Captured(m)
	switch {
	case pos.IsCastling(m):
		from, to := pos.RookMove(m)
		rook := web.HandAct{From: from.String(), To: to.String()}
		switch g.chance.IntN(3) {
		case 0:
			return "castles, king first", []web.HandAct{main, rook}
		case 1:
			return "castles, rook first", []web.HandAct{rook, main}
		}
		g.slow = true
		return "castles with the king only", []web.HandAct{main}
	case m.Promotion() != chess.NoKind:
		put := web.HandAct{From: web.Off, To: main.To, Piece: string(chess.MakePiece(pos.SideToMove(), m.Promotion()).Letter())}
		switch g.chance.IntN(3) {
		case 0:
			return "promotes", []web.HandAct{main, put}
		case 1:
			wrong := put
			wrong.Piece = string(chess.MakePiece(pos.SideToMove().Other(), chess.Queen).Letter())
			return "promotes with the wrong piece first", []web.HandAct{main, wrong, put}
		}
		g.slow = true
		return "leaves the pawn on its last square", []web.HandAct{main}
	case victim != chess.NoPiece && at != m.To():
		off := web.HandAct{From: at.String(), To: web.Off}
		if g.chances(0.5) {
			return "takes en passant", []web.HandAct{main, off}
		}
		g.slow = true
		return "takes en passant and leaves the pawn", []web.HandAct{main}
	case victim != chess.NoPiece && g.chances(0.4):
		return "takes the piece off first", []web.HandAct{{From: main.To, To: web.Off}, main}
	case g.chances(0.15):
		if over, ok := g.emptySquare(); ok {
			return "moves in two steps", []web.HandAct{{From: main.From, To: over}, {From: over, To: main.To}}
		}
	}
	return "moves", []web.HandAct{main}
}

func (g *guest) emptySquare() (string, bool) {
	now := g.page.board()
	for range 20 {
		if q := chess.Square(g.chance.IntN(64)); now[q] == chess.NoPiece {
			return q.String(), true
		}
	}
	return "", false
}

// answers the question truthfully, now and then clumsily.
func (g *guest) answers() (bool, error) {
	q, now := *g.page.now.Question, g.page.board()
	pos, err := g.page.position()
	if err != nil {
		return false, err
	}
	choice := g.truth(pos, now, q.Choices)
	answer := func(n uint64) map[string]any { return map[string]any{"n": n, "choice": choice} }
	if g.chances(0.2) {
		if ok, err := g.does("answers another question", "answer", answer(q.N+7)); ok || err != nil {
			return true, errOf(err, fmt.Errorf("an answer to question %d was taken for question %d", q.N+7, q.N))
		}
	}
	g.note("asked %q %v, says %d", q.Text, q.Choices, choice)
	ok, err := g.does("answers", "answer", answer(q.N))
	if g.late = q.N; err != nil || !ok {
		return true, err
	}
	if g.chances(0.3) {
		if ok, err := g.does("answers twice", "answer", answer(q.N)); ok || err != nil {
			return true, errOf(err, fmt.Errorf("question %d took two answers", q.N))
		}
	}
	g.rest(2)
	return g.waitsFor(nil, func(e web.Event) bool { return e.Question == nil || e.Question.N != q.N })
}

// truth is the choice that says what stands on the board.
func (g *guest) truth(pos chess.Position, now board, choices []string) int {
	start := places.StandingOf(pos).Board
	if i := slices.Index(choices, "nothing was played"); i >= 0 && now == start {
		return i
	}
	for _, m := range pos.LegalMoves(nil) {
		end := places.StandingOf(pos.After(m)).Board
		pawn := m.Promotion() == g.kind && now[m.To()] == chess.MakePiece(pos.SideToMove(), chess.Pawn) && now[m.From()] == chess.NoPiece
		if now != end && !(m.Promotion() != chess.NoKind && pawn) {
			continue
		}
		if i := slices.IndexFunc(choices, func(c string) bool { return saysMove(c, pos, m) }); i >= 0 {
			return i
		}
	}
	return len(choices) - 1
}

// saysMove says whether words name a move.
func saysMove(words string, pos chess.Position, m chess.Move) bool {
	if pos.IsCastling(m) {
		wing := "queenside"
		if m.To().File() > m.From().File() {
			wing = "kingside"
		}
		return strings.Contains(words, wing)
	}
	k := m.Promotion()
	return strings.Contains(words, " from "+m.From().String()) && strings.Contains(words, m.To().String()) &&
		(k == chess.NoKind && !strings.Contains(words, "becomes") || k != chess.NoKind && strings.HasSuffix(words, k.String()))
}
