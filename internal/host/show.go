// SPDX-License-Identifier: Apache-2.0

package host

import (
	"fmt"
	"math"

	"boardhand/internal/carry/drawing"
	"boardhand/internal/carry/plan"
	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/notice"
	"boardhand/internal/optics"
	"boardhand/internal/photo"
	"boardhand/internal/rig"
	"boardhand/internal/sight"
	"boardhand/internal/table"
	"boardhand/internal/table/journal"
	"boardhand/internal/table/places"
	"boardhand/internal/unit"
	"boardhand/internal/web"
)

// Open begins a game at a table, as it was left; it publishes what the pages
// need before anything happens.
func (h *Host) Open(t *table.Table, past journal.Past) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.table = t
	h.pos, h.machine = past.Game.Position(), chess.ColorNamed(h.o.Rig.Play.Side)
	h.standing = places.StandingOf(h.pos)
	if s := past.Standing; s != nil {
		h.standing.Beside = s.Beside
	}
	h.hand, h.registry, h.plies = newHand(), newRegistry(h.o.Rig, h.standing), len(past.Game.Moves)
	h.state, h.ways, h.moving, h.question = journal.Setting, nil, false, nil
	h.notice = notice.Notice{Kind: notice.Wait, Text: "One moment: I am finding my axes and looking at the board."}
	none := ""
	var strength *web.Strength
	if past.Strength != "" {
		strength = &web.Strength{Now: past.Strength, Ladder: h.o.Strengths}
	}
	h.publish(web.Event{
		State: web.Starting, FEN: h.pos.FEN(), Pieces: h.registry.shown(), Moves: past.Game.SANs(), Legal: legalMoves(h.pos), Running: []web.Span{},
		Machine: h.machineShown(), Visitor: h.visitorSeat(), Question: &web.Question{}, Suspicion: &none, Strength: strength,
	})
}

// visitorSeat says whether the person at the page plays, and where the guest sits.
func (h *Host) visitorSeat() *web.Visitor {
	v := &web.Visitor{Plays: h.o.Seat == AtThePage, Side: h.machine.Other().String()}
	for _, side := range []chess.Color{chess.White, chess.Black} {
		if h.o.Rig.Pieces.Carries(side.Other().String()) {
			v.Sides = append(v.Sides, side.String())
		}
	}
	if h.o.Seat == Simulated {
		v.Why = "You are watching: the guest is simulated. To play yourself, start: boardhand play --visitor"
	}
	return v
}

// machineShown describes the rig for the drawing.
func (h *Host) machineShown() *web.Machine {
	p, r := h.o.Rig.Pieces, h.o.Planner.Limits().Inside
	shapes := map[string]web.Shape{}
	for _, k := range p.Kinds().All() {
		m := p.Of(k)
		shapes[string(p.Kinds().Letter(k))] = web.Shape{Base: m.Base.MM(), Height: m.Height.MM()}
	}
	return &web.Machine{
		Name: h.o.Rig.Name(), Square: h.o.Rig.Board.Square.MM(), Border: h.o.Rig.Board.Border.MM(),
		Shapes: shapes,
		Reach:  []web.Place{web.MM(r.Min), web.MM(r.Max)}, Slots: slotsOf(h.o.Rig),
		Rows: []web.Row{
			{Name: "square", Value: h.o.Rig.Board.Square.String()},
			{Name: "gap of the magnets", Value: h.o.Rig.Gap().String()},
			{Name: "drive magnet", Value: disc(h.o.Rig.Lift.Diameter, h.o.Rig.Lift.Thickness, h.o.Rig.Lift.Grade)},
			{Name: "foot magnet", Value: disc(p.Magnet.Diameter, p.Magnet.Thickness, p.Magnet.Grade)},
			{Name: "camera", Value: fmt.Sprintf("%v up, %v wide", h.o.Rig.Camera.Height, h.o.Rig.Camera.HFOV)},
		},
	}
}

// slotsOf lists the tray's slots with their names.
func slotsOf(r *rig.Rig) (out []web.Slot) {
	slots := r.Slots()
	for k, s := range slots {
		out = append(out, web.Slot{Name: rig.SlotName(k, len(slots)), At: web.MM(s)})
	}
	return out
}

func disc(d, l unit.Length, grade string) string {
	return fmt.Sprintf("D%g × %g mm %s", d.MM(), l.MM(), grade)
}

// See turns an event of the table into one for the pages.
func (h *Host) See(e table.Event) {
	h.mu.Lock()
	defer h.mu.Unlock()
	if e.Ways != nil {
		h.ways = e.Ways
	}
	var w web.Event
	switch {
	case e.Notice != nil:
		w = h.noticed(*e.Notice)
	case e.Question != nil:
		h.pose(*e.Question)
		w.Question = h.shownQuestion()
	case e.Answered:
		w.Question, h.question = &web.Question{}, nil
	case e.Picture != nil:
		w = h.picture(*e.Picture, *e.Reading)
	case e.Plan != nil:
		w.Lanes = lanesOf(*e.Plan, h.o.Planner.Clearances(*e.Scene, *e.Plan))
		w.Running = spansOf(*e.Plan)
	case e.Step != nil:
		w = h.step(*e.Step)
	case e.Carriage != nil:
		at := web.MM(*e.Carriage)
		w.Carriage = &web.Carriage{X: at[0], Y: at[1], Raised: e.Lift == table.Raised}
	case e.Text != "" || e.State != "":
		w = h.line(e)
	}
	h.aside(e, &w)
	h.publish(w)
}

// aside adds what may come with any event.
func (h *Host) aside(e table.Event, w *web.Event) {
	if slow := e.Slow || h.slow && e.Picture == nil; slow != h.slow {
		h.slow = slow
		w.Slow = &slow
	}
	if e.Suspicion != "" {
		w.Suspicion = &e.Suspicion
		w.Log = append(w.Log, h.logged(web.Line{Kind: web.Warn, Text: e.Suspicion})...)
	}
}

// noticed takes in what the table says to the guest.
func (h *Host) noticed(n notice.Notice) web.Event {
	h.notice, h.acted = n, h.acts.busy // a hand under way is not done yet
	w := web.Event{Log: h.logged(web.Line{Text: n.Text})}
	first := h.entered
	h.entered = false
	if n.Kind == notice.Wait || n.Kind == notice.HandSeen || n.Kind == notice.TakingBack {
		if first {
			h.waiting = n.Text
		}
		return w
	}
	h.moving, w.Running = false, []web.Span{}
	return w
}

// line shows a log line, and the game when it has moved on.
func (h *Host) line(e table.Event) web.Event {
	w := web.Event{State: stateName(e.State)}
	if e.State != "" && e.State != h.state {
		if h.state != journal.Removal && e.State != journal.Removal { // after that it goes on as before
			h.entered, h.waiting = true, ""
		}
		h.state = e.State
		h.moving = h.moving && e.State != journal.Removal && e.State != journal.Trouble
	}
	if e.Text != "" {
		w.Log = h.logged(web.Line{Kind: string(web.Change), Text: e.Text})
		h.o.Tell(e.State, e.Text)
	}
	if e.Standing != nil {
		h.standing = *e.Standing
	}
	if e.Record != nil && e.Record.What == journal.StrengthSet {
		w.Strength = &web.Strength{Now: e.Record.Strength, Ladder: h.o.Strengths}
	}
	if e.Game == nil {
		return w
	}
	if pos := e.Game.Position(); len(e.Game.Moves) != h.plies || pos.FEN() != h.pos.FEN() {
		h.plies, h.pos = len(e.Game.Moves), pos
		w.FEN, w.Moves, w.Legal, w.Lanes, w.Running = pos.FEN(), e.Game.SANs(), legalMoves(pos), []web.Lane{}, []web.Span{}
		if h.plies > 0 {
			w.LastMove = e.Game.Moves[h.plies-1].String()
		}
	}
	if e.Standing != nil || w.FEN != "" {
		h.hand.agree(h.standing)
		h.registry.follow(h.hand.standing(h.standing))
		w.Pieces = h.registry.shown()
	}
	if o := e.Game.Outcome(); o.Over() {
		w.Result = string(o.Result)
	}
	return w
}

// hintShown are the squares of a notice that is a hint, while it is the guest's move.
func hintShown(n notice.Notice, s journal.State) []string {
	if n.Kind != notice.Hint || s != journal.Guesting && s != journal.Reading {
		return []string{}
	}
	return chess.SquareNames(n.Squares)
}

// logged is a new line of the log; one that says the same again is left out.
func (h *Host) logged(l web.Line) []web.Line {
	if l.Text == h.said {
		return nil
	}
	h.said = l.Text
	return []web.Line{l}
}

var stateNames = map[journal.State]web.State{
	journal.Setting: web.Starting, journal.Guesting: web.Guest, journal.Reading: web.Reading, journal.Thinking: web.Thinking,
	journal.Removal: web.Removal, journal.Carrying: web.Carrying, journal.Verifying: web.Verifying, journal.Trouble: web.Trouble, journal.Over: web.Over,
	journal.Undoing: web.Undoing, journal.Arranging: web.Arranging,
}

func stateName(s journal.State) web.State { return stateNames[s] }

// picture shows a picture with what it was read as.
func (h *Host) picture(p photo.Picture, r sight.Reading) web.Event {
	pos := h.pos
	read := &web.Read{State: string(r.State), Belief: shownBelief(r.Belief), Squares: chess.SquareNames(r.Squares)}
	if r.Move != 0 && pos.Legal(r.Move) {
		read.Move, read.SAN = r.Move.String(), pos.SAN(r.Move)
	}
	for _, c := range r.Candidates {
		one := web.Candidate{Belief: shownBelief(c.Belief)}
		if c.Move != 0 && pos.Legal(c.Move) {
			one.Move, one.SAN = c.Move.String(), pos.SAN(c.Move)
		}
		read.Candidates = append(read.Candidates, one)
	}
	w := web.Event{Reading: read, JPEG: p.JPEG}
	h.moving = h.moving && h.state == journal.Carrying
	if len(r.Offsets) > 0 {
		h.registry.measure(r)
	}
	if r.State == sight.Same {
		w.Pieces = h.registry.shown()
	}
	if h.unseen++; r.State != sight.Same || h.acts.busy || len(h.hand.squares) == 0 {
		h.unseen = 0
	}
	if v, ok := h.o.View(); ok && !h.viewed {
		h.viewed = true
		w.View, w.Camera = viewOf(v, h.o.Rig), cameraOf(v)
	}
	return w
}

// shownBelief is a belief in steps that a page can show, a doubt never rounded
// away.
func shownBelief(b float64) float64 { return math.Floor(b*1e4) / 1e4 }

func cameraOf(v optics.View) *web.Camera {
	c := v.Camera()
	return &web.Camera{X: c.X * 1e3, Y: c.Y * 1e3, Z: c.Z * 1e3}
}

// viewOf projects the corners of the squares.
func viewOf(v optics.View, r *rig.Rig) *web.View {
	out := &web.View{Width: r.Camera.Image[0], Height: r.Camera.Image[1]}
	b, s := r.Board, float64(r.Board.Square)
	for rank := range b.Ranks + 1 {
		for file := range b.Files + 1 {
			p, _ := v.Project(frame.Point[frame.Board]{X: (float64(file) - float64(b.Files)/2) * s, Y: (float64(rank) - float64(b.Ranks)/2) * s})
			out.Corners = append(out.Corners, web.Place{p.X, p.Y})
		}
	}
	return out
}

// lanesOf lists the planned paths with their narrowest places.
func lanesOf(p plan.Plan, clear [][]drawing.Clearance) []web.Lane {
	out := []web.Lane{}
	for i, s := range p.Steps {
		if len(s.Path) < 2 {
			continue
		}
		l := web.Lane{Do: string(s.Do), Path: web.PathMM(s.Path)}
		for _, c := range clear[i] {
			l.Clearances = append(l.Clearances, web.Clearance{From: web.MM(c.From), To: web.MM(c.To), Free: c.Free * 1e3, Tight: c.Tight()})
		}
		out = append(out, l)
	}
	return out
}

// spansOf lists where the carries of a plan begin and end.
func spansOf(p plan.Plan) []web.Span {
	name := func(q chess.Square) string {
		if q < chess.NoSquare {
			return q.String()
		}
		return web.Off
	}
	out := []web.Span{}
	for _, s := range p.Steps {
		if s.Do == plan.Carry {
			out = append(out, web.Span{From: name(s.From), To: name(s.To)})
		}
	}
	return out
}

// step animates a stroke.
func (h *Host) step(s plan.Step) web.Event {
	if s.Do != plan.Ask {
		h.handsAway()
	}
	if s.Do == plan.Carry && len(h.acts.waiting) == 0 { // all that the hand was told has been begun
		h.hand.yield(s.To)
		h.hand.give(s.Piece, func(q chess.Square) bool { return h.registry.isOn(q, s.PiecePath[0]) })
	}
	if len(s.Path) < 2 {
		return web.Event{}
	}
	m := &web.Motion{Path: web.PathMM(s.Path)}
	if h.o.Pace > 0 { // 0: nobody watches in real time
		m.Duration = float64(s.Time) / h.o.Pace
	}
	if s.Do == plan.Carry {
		m.PiecePath, m.Raised = web.PathMM(s.PiecePath), true
		m.Carrying = h.registry.id(s.Piece, s.PiecePath[0])
	}
	return web.Event{Motion: m}
}

// handsAway notes that the carriage moves: nobody is asked to reach in.
func (h *Host) handsAway() {
	h.moving = true
	if !isAsking(h.notice) {
		return
	}
	text := "Hands off, please: I go on."
	if h.waiting != "" {
		text = h.waiting
	}
	h.notice = notice.Notice{Kind: notice.Wait, Text: "Thank you. " + text}
}
