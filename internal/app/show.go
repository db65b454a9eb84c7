package app

import (
	"fmt"

	"boardhand/internal/carry"
	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/notice"
	"boardhand/internal/optics"
	"boardhand/internal/rig"
	"boardhand/internal/sight"
	"boardhand/internal/table"
	"boardhand/internal/unit"
	"boardhand/internal/web"
)

// open publishes what the pages need before anything happens.
func (h *host) open() {
	pos := h.e.game.Position()
	standing := table.StandingOf(pos)
	if s := h.e.past.Standing; s != nil {
		standing.Beside = s.Beside
	}
	h.roster, h.plies = newRoster(h.e.rig, standing), len(h.e.game.Moves)
	side := sideOf(h.e.rig.Play.Side).Other()
	h.e.server.Publish(web.Event{
		State: web.Starting, Sentence: "One moment: I am finding my axes and looking at the board.",
		FEN: pos.FEN(), Men: h.roster.shown(), Moves: sanList(h.e.game), Offers: []web.Offer{}, Machine: machineOf(h.e),
		Visitor: &web.Visitor{Plays: h.e.f.visitor, Side: side.String()},
	})
}

// machineOf describes the rig for the drawing.
func machineOf(e *evening) *web.Machine {
	p, r := e.rig.Pieces, e.bench.planner.Limits().Inside
	foot := func(m rig.Man) web.Foot { return web.Foot{Base: m.Base.MM(), Height: m.Height.MM()} }
	return &web.Machine{
		Name: e.rig.Name(), Square: e.rig.Board.Square.MM(), Border: e.rig.Board.Border.MM(),
		Feet: map[string]web.Foot{"K": foot(p.King), "Q": foot(p.Queen), "B": foot(p.Bishop),
			"N": foot(p.Knight), "R": foot(p.Rook), "P": foot(p.Pawn)},
		Reach: []web.Place{web.MM(r.Min), web.MM(r.Max)}, Slots: slotsOf(e.rig),
		Rows: []web.Row{
			{Name: "square", Value: e.rig.Board.Square.String()},
			{Name: "gap of the magnets", Value: e.rig.Gap().String()},
			{Name: "drive magnet", Value: disc(e.rig.Lift.Diameter, e.rig.Lift.Thickness, e.rig.Lift.Grade)},
			{Name: "foot magnet", Value: disc(p.Magnet.Diameter, p.Magnet.Thickness, p.Magnet.Grade)},
			{Name: "camera", Value: fmt.Sprintf("%v up, %v wide", e.rig.Camera.Height, e.rig.Camera.HFOV)},
		},
	}
}

// slotsOf lists the tray's slots with their names.
func slotsOf(r *rig.Rig) (out []web.Slot) {
	slots := carry.Slots(r)
	for k, s := range slots {
		out = append(out, web.Slot{Name: carry.SlotName(k, len(slots)), At: web.MM(s)})
	}
	return out
}

func disc(d, l unit.Length, grade string) string {
	return fmt.Sprintf("D%g × %g mm %s", d.MM(), l.MM(), grade)
}

// see turns an event of the table into one for the pages.
func (h *host) see(e table.Event) {
	var w web.Event
	switch {
	case e.Notice != nil:
		w.Sentence, w.Wanted = e.Notice.Text, wanted(*e.Notice)
		h.noted(*e.Notice)
		w.Offers = h.offers()
		w.Log = h.logged(web.Line{Text: e.Notice.Text})
	case e.Question != nil:
		w.Question = &web.Question{Text: e.Question.Text, Choices: e.Question.Choices}
	case e.Answered:
		w.Question = &web.Question{}
	case e.Picture != nil:
		w = h.picture(*e.Picture, *e.Reading)
	case e.Plan != nil:
		w.Lanes = lanesOf(*e.Plan, h.e.bench.planner.Clearances(*e.Scene, *e.Plan))
	case e.Step != nil:
		w = h.step(*e.Step)
	case e.Carriage != nil:
		at := web.MM(*e.Carriage)
		w.Carriage = &web.Carriage{X: at[0], Y: at[1], Raised: e.Raised}
	case e.Text != "" || e.State != "":
		w = h.line(e)
	default:
		return
	}
	h.e.server.Publish(w)
}

// line shows a log line, and the game when it has moved on.
func (h *host) line(e table.Event) web.Event {
	w := web.Event{State: stateName(e.State)}
	h.state = e.State
	if e.Text != "" {
		w.Log = h.logged(web.Line{Kind: string(web.Change), Text: e.Text})
		h.e.o.printf("%-10s %s\n", e.State, e.Text)
	}
	if e.Game == nil {
		return w
	}
	if n := len(e.Game.Moves); n != h.plies {
		h.plies = n
		pos := e.Game.Position()
		w.FEN, w.Moves, w.Lanes = pos.FEN(), sanList(e.Game), []web.Lane{}
		if n > 0 {
			w.LastMove = e.Game.Moves[n-1].String()
		}
	}
	if e.Standing != nil {
		h.roster.follow(*e.Standing)
	}
	if e.Standing != nil || w.FEN != "" {
		w.Men = h.roster.shown()
	}
	if o := e.Game.Outcome(); o.Over() {
		w.Result = string(o.Result)
	}
	w.Offers = h.offers()
	return w
}

// logged is a new line of the log; one that says the same again is left out.
func (h *host) logged(l web.Line) []web.Line {
	if l.Text == h.said {
		return nil
	}
	h.said = l.Text
	return []web.Line{l}
}

var stateNames = map[table.State]web.State{
	table.Setting: web.Starting, table.Guesting: web.Guest, table.Reading: web.Reading, table.Thinking: web.Thinking,
	table.Removal: web.Removal, table.Carrying: web.Carrying, table.Verifying: web.Verifying, table.Trouble: web.Trouble, table.Over: web.Over,
	table.Undoing: web.Undoing, table.Arranging: web.Arranging,
}

func stateName(s table.State) web.State { return stateNames[s] }

// picture shows a picture with what it was read as.
func (h *host) picture(p sight.Picture, r sight.Reading) web.Event {
	pos := h.e.game.Position()
	read := &web.Read{State: string(r.State), Belief: r.Belief, Squares: squareNames(r.Squares)}
	if r.Move != 0 && pos.Legal(r.Move) {
		read.Move, read.SAN = r.Move.String(), pos.SAN(r.Move)
	}
	for _, c := range r.Candidates {
		one := web.Candidate{Belief: c.Belief}
		if c.Move != 0 && pos.Legal(c.Move) {
			one.Move, one.SAN = c.Move.String(), pos.SAN(c.Move)
		}
		read.Candidates = append(read.Candidates, one)
	}
	w := web.Event{Reading: read, JPEG: p.JPEG}
	if len(r.Offsets) > 0 {
		h.roster.measure(r)
	}
	if r.State == sight.Same {
		w.Men = h.roster.shown()
	}
	if v, ok := h.e.bench.eye.View(); ok && !h.viewed {
		h.viewed = true
		w.View, w.Camera = viewOf(v, h.e.rig), cameraOf(v)
	}
	return w
}

func cameraOf(v optics.View) *web.Camera {
	c := v.Camera()
	return &web.Camera{X: c.X * 1e3, Y: c.Y * 1e3, Z: c.Z * 1e3}
}

// viewOf projects the 81 corners of the squares.
func viewOf(v optics.View, r *rig.Rig) *web.View {
	out := &web.View{Width: r.Camera.Image[0], Height: r.Camera.Image[1]}
	s := float64(r.Board.Square)
	for rank := 0; rank <= rig.Files; rank++ {
		for file := 0; file <= rig.Files; file++ {
			p, _ := v.Project(frame.Point[frame.Board]{X: (float64(file) - 4) * s, Y: (float64(rank) - 4) * s})
			out.Corners = append(out.Corners, web.Place{p.X, p.Y})
		}
	}
	return out
}

// lanesOf lists the planned paths with their narrowest places.
func lanesOf(p carry.Plan, clear [][]carry.Clearance) []web.Lane {
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

// mostWanted is how many acts get a button each; more than that a visitor does
// with one button.
const mostWanted = 3

// wanted are the acts that a notice asks of the guest.
func wanted(n notice.Notice) (out []web.HandAct) {
	if len(n.Acts) > mostWanted {
		return nil
	}
	for _, a := range n.Acts {
		act := web.HandAct{From: web.Off, To: web.Off}
		if a.From < chess.NoSquare {
			act.From = a.From.String()
		} else {
			act.Piece = string(a.Piece.Letter())
		}
		if a.To < chess.NoSquare {
			act.To = a.To.String()
		}
		if act.From != act.To {
			out = append(out, act)
		}
	}
	return out
}

// step animates a stroke.
func (h *host) step(s carry.Step) web.Event {
	if len(s.Path) < 2 {
		return web.Event{}
	}
	m := &web.Motion{Path: web.PathMM(s.Path), Duration: float64(s.Time) / h.e.f.pace}
	if s.Do == carry.Carry {
		m.ManPath, m.Raised = web.PathMM(s.PiecePath), true
		m.Carrying = h.roster.id(s.Piece, s.PiecePath[0])
	}
	return web.Event{Motion: m}
}

// sanList writes the moves of a game.
func sanList(g *chess.Game) []string {
	out := []string{}
	pos := g.Start
	for _, m := range g.Moves {
		out = append(out, pos.SAN(m))
		pos.Make(m)
	}
	return out
}
