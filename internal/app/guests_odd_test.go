// SPDX-License-Identifier: Apache-2.0

package app

import (
	"fmt"
	"strings"

	"boardhand/internal/chess"
	"boardhand/internal/host"
	"boardhand/internal/search"
	"boardhand/internal/table/places"
	"boardhand/internal/web"
)

// doOdd does one thing that a guest should not, or need not, do.
func (g *guest) doOdd() (bool, error) {
	all := []func() (bool, error){
		g.stops, g.resumes, g.takesBack, g.takesBack, g.illegally, g.illegally, g.removes, g.removes, g.touches,
		g.addsPiece, g.reaches, g.reloads, g.joins, g.looksAfresh, g.saysRight, g.namesMove, g.saysNothing, g.agrees,
		g.offersDraw, g.resigns, g.asksAgain, g.answersLate, g.wantsHint, g.choosesStrength,
	}
	return all[g.chance.IntN(len(all))]()
}

func (g *guest) stops() (bool, error) {
	_, err := g.does("stops", "halt", struct{}{})
	if err == nil && g.chances(0.3) {
		_, err = g.does("stops twice", "halt", struct{}{})
	}
	if err == nil && g.chances(0.3) {
		_, err = g.does("resumes at once", "resume", struct{}{})
	}
	return true, err
}

func (g *guest) resumes() (bool, error) {
	_, err := g.does("resumes", "resume", struct{}{})
	if err == nil {
		_, err = g.does("resumes twice", "resume", struct{}{})
	}
	return true, err
}

func (g *guest) takesBack() (bool, error) {
	if g.back >= 4 {
		return false, nil
	}
	g.plan = nil
	ok, err := g.does("takes back", "request", web.Request{For: web.ForBack, Plies: 1 + g.chance.IntN(2)})
	if ok {
		g.back++
	}
	return true, err
}

// illegally moves a piece where no rule allows it.
func (g *guest) illegally() (bool, error) {
	from, ok := g.anyPiece(func(p chess.Piece) bool { return true })
	to := chess.Square(g.chance.IntN(64))
	if !ok || from == to {
		return false, nil
	}
	g.plan = nil
	return g.hands("moves illegally", web.HandAct{From: from.String(), To: to.String()}, 1+g.chance.IntN(6))
}

// removes a piece; it is put back later.
func (g *guest) removes() (bool, error) {
	from, ok := g.anyPiece(func(p chess.Piece) bool { return true })
	if !ok {
		return false, nil
	}
	g.plan = nil
	return g.hands("removes a piece", web.HandAct{From: from.String(), To: web.Off}, 1+g.chance.IntN(6))
}

// touches a piece of the machine's: to a square nearby and back at once.
func (g *guest) touches() (bool, error) {
	side := "white"
	if v := g.page.now.Visitor; v != nil {
		side = v.Side
	}
	from, ok := g.anyPiece(func(p chess.Piece) bool { return p.Color().String() != side })
	to, free := g.emptySquare()
	if !ok || !free {
		return false, nil
	}
	g.plan = nil
	if did, err := g.hands("touches a piece of the machine's", web.HandAct{From: from.String(), To: to}, 0); err != nil || g.chances(0.5) {
		return did, err
	}
	return g.hands("sets it back", web.HandAct{From: to, To: from.String()}, 3)
}

func (g *guest) addsPiece() (bool, error) {
	to, ok := g.emptySquare()
	if !ok {
		return false, nil
	}
	g.plan = nil
	return g.hands("adds a piece", web.HandAct{From: web.Off, To: to, Piece: string("QRBNPqrbnp"[g.chance.IntN(10)])}, 1+g.chance.IntN(6))
}

// reaches in while the carriage is at work: it is refused, or done afterwards.
func (g *guest) reaches() (bool, error) {
	if g.page.handsMay() {
		return false, nil
	}
	from, ok := g.anyPiece(func(p chess.Piece) bool { return true })
	to, free := g.emptySquare()
	if !ok || !free {
		return false, nil
	}
	_, err := g.does("reaches in", "hand", web.HandAct{From: from.String(), To: to})
	g.rest(2)
	return true, err
}

// reloads the page: it must show the same.
func (g *guest) reloads() (bool, error) {
	old, d := g.page, ""
	for range 5 { // the old page may be an event behind
		before := &viewer{state: cloned(old.state)}
		next, err := view(old.url)
		if err == nil {
			err = next.wait()
		}
		for err == nil && (old.now.Picture < next.now.Picture || old.lines < next.lines) {
			err = old.wait()
		}
		if err == nil {
			err = old.drain()
		}
		if err != nil {
			return true, err
		}
		if old.differs(before) != "" { // something has happened in between
			next.close()
			continue
		}
		if d = old.differs(next); d != "" {
			next.close()
			continue
		}
		g.note("reloads")
		g.count("reloads")
		next.log = append(old.log, next.log...)
		old.close()
		g.page = next
		return true, nil
	}
	if d != "" {
		return true, fmt.Errorf("a page that is loaded afresh shows something else: %s", d)
	}
	return false, nil
}

// joins opens a second page, or closes it.
func (g *guest) joins() (bool, error) {
	if g.second != nil {
		g.second.close()
		g.second = nil
		return false, nil
	}
	g.note("a second viewer comes")
	second, err := view(g.page.url)
	g.second = second
	return true, err
}

func (g *guest) looksAfresh() (bool, error) {
	_, err := g.does("has it look afresh", "request", web.Request{For: web.ForAfresh})
	return true, err
}

// isPlain says whether the board is known to show what the machine believes.
func (g *guest) isPlain() bool {
	return len(g.page.now.Phantoms) == 0 && len(g.page.now.Wanted) == 0 && !g.page.offers(web.ForArrange) && g.page.now.Picture >= g.until
}

// hasDone says whether a request for hands is fulfilled, though the machine does not see it:
// a piece exchanged for another looks the same from above, and a line-up of which it is not
// sure stands nevertheless. The game's place stays a phantom while a move is taken back.
func (g *guest) hasDone() bool {
	now := g.page.now
	isAsked := now.State == web.Removal || g.page.handsMay() && (now.State == web.Undoing || now.State == web.Arranging)
	return isAsked && len(now.Wanted) == 0 && !g.page.offers(web.ForArrange) && now.Picture >= g.until
}

// saysRight says so only where nothing is left to do.
func (g *guest) saysRight() (bool, error) {
	if !g.isPlain() || !g.page.handsMay() {
		return false, nil
	}
	_, err := g.does("says that it is right", "request", web.Request{For: web.ForRight})
	return true, err
}

// namesMove says which move stands on the board.
func (g *guest) namesMove() (bool, error) {
	pos, err := g.page.position()
	if err != nil {
		return false, err
	}
	on := host.HalfwayTo(pos, g.page.board())
	if !on.IsSome || on.Move == 0 || len(on.Left) > 0 {
		return false, nil
	}
	_, err = g.does("names the move", "request", web.Request{For: web.ForPlayed, Move: on.Move.String()})
	return true, err
}

func (g *guest) saysNothing() (bool, error) {
	if !g.isPlain() || len(g.plan) > 0 {
		return false, nil
	}
	_, err := g.does("says that nothing was played", "request", web.Request{For: web.ForPlayed})
	return true, err
}

// agrees on the position that stands there, where the rules know it.
func (g *guest) agrees() (bool, error) {
	fen, ok := g.standingFEN()
	if !ok || !g.page.handsMay() || g.page.now.State != web.Guest && g.page.now.State != web.Reading {
		return false, nil
	}
	g.plan = nil
	_, err := g.does("agrees on the position", "request", web.Request{For: web.ForPosition, FEN: fen})
	g.rest(2)
	return true, err
}

// standingFEN is what stands there, with the side to move as it is.
func (g *guest) standingFEN() (string, bool) {
	now := g.page.board()
	fields := strings.Fields(g.page.now.FEN)
	if len(fields) < 6 {
		return "", false
	}
	pos, err := g.page.position()
	if err != nil || now == places.StandingOf(pos).Board {
		return g.page.now.FEN, err == nil
	}
	placement, _, _ := strings.Cut(places.Standing{Board: now}.String(), " ")
	fen := placement + " " + fields[1] + " - - 0 1"
	_, err = chess.ParseFEN(fen)
	return fen, err == nil
}

func (g *guest) offersDraw() (bool, error) {
	if !g.chances(0.5) {
		return false, nil
	}
	_, err := g.does("offers a draw", "request", web.Request{For: web.ForDraw})
	return true, err
}

func (g *guest) resigns() (bool, error) {
	if !g.chances(0.2) {
		return false, nil
	}
	_, err := g.does("resigns", "request", web.Request{For: web.ForResign})
	return true, err
}

// wantsHint asks for a hint, at times twice at once.
func (g *guest) wantsHint() (bool, error) {
	_, err := g.does("asks for a hint", "request", web.Request{For: web.ForHint})
	if err == nil && g.chances(0.5) {
		_, err = g.does("asks for the move", "request", web.Request{For: web.ForHint})
	}
	return true, err
}

// choosesStrength has the machine play otherwise.
func (g *guest) choosesStrength() (bool, error) {
	names := search.StrengthNames()
	_, err := g.does("chooses a strength", "request", web.Request{For: web.ForStrength, Strength: names[g.chance.IntN(len(names))]})
	return true, err
}

// asksAgain asks for a new game.
func (g *guest) asksAgain() (bool, error) {
	if !g.chances(0.3) || g.again > 0 {
		return false, nil
	}
	r := web.Request{For: web.ForNew}
	if v := g.page.now.Visitor; v != nil && g.chances(0.5) {
		r.Side = v.Sides[g.chance.IntN(len(v.Sides))]
		r.Side = map[string]string{"white": "black", "black": "white"}[r.Side]
	}
	if g.chances(0.3) {
		r.Time = 0.1
	}
	if g.chances(0.3) {
		r.Odds = "queen"
	}
	ok, err := g.does("asks for a new game", "request", r)
	if ok {
		g.again++
	}
	g.plan = nil
	return true, err
}

// answersLate answers a question that is settled.
func (g *guest) answersLate() (bool, error) {
	if g.late == 0 || g.page.isAsked() {
		return false, nil
	}
	ok, err := g.does("answers late", "answer", map[string]any{"n": g.late, "choice": 0})
	if ok {
		err = fmt.Errorf("question %d was settled and took an answer", g.late)
	}
	return true, err
}

func (g *guest) anyPiece(fits func(chess.Piece) bool) (chess.Square, bool) {
	now := g.page.board()
	for range 100 {
		if q := chess.Square(g.chance.IntN(64)); now[q] != chess.NoPiece && fits(now[q]) {
			return q, true
		}
	}
	return chess.NoSquare, false
}

// isLate says whether a sober guest has waited long since the last way out.
func (g *guest) isLate() bool {
	return g.page.now.Picture >= g.seen+uint64(outAfter*(g.helped+1))
}

// wayOut tries what the page offers to somebody who is stuck.
func (g *guest) wayOut() (bool, error) {
	g.helped++
	g.odd = 0
	pos, err := g.page.position()
	if err != nil {
		return false, err
	}
	on := host.HalfwayTo(pos, g.page.board())
	fen, stands := g.standingFEN()
	switch {
	case g.page.offers(web.ForArrange):
		_, err = g.does("way out: the button", "request", web.Request{For: web.ForArrange})
	case g.page.offers(web.ForPlayed) && on.Move != 0 && len(on.Left) == 0:
		_, err = g.does("way out: names the move", "request", web.Request{For: web.ForPlayed, Move: on.Move.String()})
	case g.helped%2 == 1 && g.page.offers(web.ForAfresh):
		_, err = g.does("way out: afresh", "request", web.Request{For: web.ForAfresh})
	case g.page.offers(web.ForRight) && (g.isPlain() || g.hasDone()):
		_, err = g.does("way out: it is right", "request", web.Request{For: web.ForRight})
	case g.page.offers(web.ForPosition) && stands:
		_, err = g.does("way out: the position", "request", web.Request{For: web.ForPosition, FEN: fen})
	}
	return true, err
}
