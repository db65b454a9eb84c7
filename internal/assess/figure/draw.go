// SPDX-License-Identifier: Apache-2.0

package figure

import (
	"fmt"
	"math"

	"boardhand/internal/assess"
	"boardhand/internal/assess/eye"
	"boardhand/internal/axes"
	"boardhand/internal/chess"
	"boardhand/internal/coupling"
	"boardhand/internal/frame"
	"boardhand/internal/game"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// drawn is a rig with what its figures share.
type drawn struct {
	coupling.Coupling
	study *assess.Study
}

// Of draws a rig: what can be computed of it.
func Of(r *rig.Rig) []Figure {
	study := assess.Begin(r, nil)
	c, err := study.Coupling()
	c.Rig = r
	s := drawn{c, study}
	var out []Figure
	if err == nil {
		out = append(out, s.drawPull(), s.drawNeighbours())
	}
	for _, name := range []string{"x", "y"} {
		if f, ok := s.drawStall(name); ok {
			out = append(out, f)
		}
	}
	if f, ok := s.drawContact(); ok {
		out = append(out, f)
	}
	if r.Board.Square > 0 {
		out = append(out, s.drawReach())
	}
	if f, ok := s.drawView(); ok {
		out = append(out, f)
	}
	for i := range out {
		out[i].keepFinite()
	}
	return out
}

// drawPull is the lateral pull on the heaviest piece over the offset, with the
// friction it must beat and where the piece lags and slips.
func (s drawn) drawPull() Figure {
	k := s.Heaviest()
	m, st := s.Rig.Pieces.Of(k), s.Stand(k)
	f := Figure{ID: "pull", Title: "Pull on the " + s.Rig.Pieces.Kinds().Name(k) + " over the offset", XLabel: "offset of the axes, mm", YLabel: "sideways force, N", X: Extent{0, s.pullEnd(k)}}
	at := func(times float64, gap unit.Length, mu float64) func(float64) float64 {
		return func(x float64) float64 {
			p, err := s.Pull.At(float64(gap), x*1e-3)
			if err != nil {
				return math.NaN()
			}
			p.Axial, p.Lateral = p.Axial*times, p.Lateral*times
			if mu > 0 {
				return mu * st.Normal(p)
			}
			return p.Lateral
		}
	}
	const n = 120
	xs, pull := over(f.X, n, at(1, st.Gap, 0))
	_, weak := over(f.X, n, at(s.Spread.Weak, s.Spread.Far, 0))
	_, strong := over(f.X, n, at(s.Spread.Strong, s.Spread.Near, 0))
	_, held := over(f.X, n, at(1, st.Gap, st.Static))
	_, slid := over(f.X, n, at(1, st.Gap, st.Kinetic))
	f.Bands = []Band{{"pull over magnets' grades and warp", xs, weak, strong}}
	f.Lines = []Line{{"pull back to the axis, nominal", Bold, xs, pull}, {"friction when sticking", Dashed, xs, held}, {"friction when sliding", Thin, xs, slid}}
	f.Y = spanOf(pull, weak, strong, held)
	if lag, err := st.Lag(st.Static, 0); err == nil {
		f.Marks = append(f.Marks, Mark{fmt.Sprintf("lag at rest %.1f mm", mm(lag)), mm(lag), false})
	}
	if h, err := st.Best(st.Static); err == nil {
		f.Marks = append(f.Marks, Mark{fmt.Sprintf("best pull after friction, %.2f N at %.1f mm: what needs more slips off", h.Net, mm(h.Offset)), mm(h.Offset), h.Net < 0})
	}
	f.Caption = fmt.Sprintf("Gap %.1f mm, %v × %v below, %v × %v in the base, %s of %v.", mm(st.Gap), s.Rig.Lift.Diameter, s.Rig.Lift.Thickness,
		s.Rig.Pieces.Magnet.Diameter, s.Rig.Pieces.Magnet.Thickness, k, m.Mass)
	return f
}

// pullEnd is how far out the pull chart goes: until the pull has turned over.
func (s drawn) pullEnd(k game.Kind) float64 {
	st := s.Stand(k)
	if h, err := st.Best(st.Static); err == nil {
		return math.Ceil(math.Min(3*mm(h.Offset), mm(s.Reach)))
	}
	return 20
}

// drawNeighbours is the sideways force of the raised magnet on a standing piece.
func (s drawn) drawNeighbours() Figure {
	k := s.Lightest()
	m, st := s.Rig.Pieces.Of(k), s.Stand(k)
	end := 1.6 * s.lane()
	p, err := st.WorstNeighbour(s.Spread, st.Static)
	if err == nil {
		end = math.Max(end, 1.3*mm(p.Safe))
	}
	f := Figure{ID: "neighbours", Title: "Raised magnet beside a standing " + s.Rig.Pieces.Kinds().Name(k), XLabel: "offset of the axes, mm", YLabel: "force, N", X: Extent{0, math.Min(end, mm(s.Reach))}}
	side := func(mu float64) func(float64) float64 {
		return func(x float64) float64 {
			p, err := s.Pull.At(float64(s.Spread.Near), x*1e-3)
			if err != nil {
				return math.NaN()
			}
			p.Axial, p.Lateral = p.Axial*s.Spread.Strong, p.Lateral*s.Spread.Strong
			if mu > 0 {
				return mu * st.Normal(p)
			}
			return math.Abs(p.Lateral)
		}
	}
	const n = 160
	xs, pull := over(f.X, n, side(0))
	_, hold := over(f.X, n, side(st.Static))
	_, careful := over(f.X, n, side(st.Static/coupling.FrictionReserve))
	f.Bands = []Band{{"friction, with a third less to what is nominal", xs, careful, hold}}
	f.Lines = []Line{{"sideways pull, strong magnets and board bowed down", Bold, xs, pull}, {"friction that holds the piece", Dashed, xs, hold}}
	f.Y = Extent{0, 4 * st.Static * s.Weight(k)}
	if err == nil {
		f.Marks = append(f.Marks, Mark{fmt.Sprintf("safe beyond %.1f mm", mm(p.Safe)), mm(p.Safe), mm(p.Safe) > s.lane()})
	}
	f.Marks = append(f.Marks, Mark{fmt.Sprintf("lane at half a square, %.1f mm", s.lane()), s.lane(), false})
	f.Caption = fmt.Sprintf("The %s (%v) is dragged where the bold line is above the dashed one. The vertical scale is cut off at four times its friction.", k, m.Mass)
	return f
}

// drawStall is an axis' force over its speed.
func (s drawn) drawStall(name string) (Figure, bool) {
	a := axes.Named(s.Rig, name)
	t, err := axes.Train(s.Rig, a)
	if err != nil {
		return Figure{}, false
	}
	l := axes.Load(a, s.Rubbing(), s.study.Towed())
	st, err := t.StallMargin(l, a.Speed)
	if err != nil {
		return Figure{}, false
	}
	f := Figure{ID: "drive-" + name, Title: "Force of the " + name + " drive over speed", XLabel: "speed, mm/s", YLabel: "force, N",
		X: Extent{0, math.Ceil(1.15 * 1e3 * math.Max(float64(st.Top), float64(a.Speed)))}}
	xs, has := over(f.X, 100, func(v float64) float64 { return float64(t.ForceAt(unit.Speed(v * 1e-3))) })
	flat := func(y float64) []float64 { return []float64{y, y} }
	ends := []float64{f.X.From, f.X.To}
	f.Lines = []Line{{"force the motor has", Bold, xs, has}, {"needed while gaining speed", Dashed, ends, flat(float64(st.Needs))},
		{"needed at steady speed", Dotted, ends, flat(float64(l.Friction + l.Drag))}}
	f.Y = spanOf(has, flat(float64(st.Needs)))
	f.Marks = []Mark{{fmt.Sprintf("axis speed %.0f mm/s, %.1f times what is needed", float64(a.Speed)*1e3, float64(st.Has/st.Needs)), float64(a.Speed) * 1e3, st.Margin < 0},
		{fmt.Sprintf("stalls at %.0f mm/s", float64(st.Top)*1e3), float64(st.Top) * 1e3, st.Margin < 0}}
	f.Caption = fmt.Sprintf("The %s moves %.2f mm a turn; %.0f g gain speed at %.0f mm/s².", a.Drive, mm(t.Travel), a.Moved.Grams(), float64(a.Acceleration)*1e3)
	return f, true
}

// drawContact is the force of the magnet's cap on the underside over the warp.
func (s drawn) drawContact() (Figure, bool) {
	l, half := s.Rig.Lift, mm(s.Rig.Board.Warp)/2
	if half == 0 {
		return Figure{}, false
	}
	f := Figure{ID: "contact", Title: "Magnet pressed to the board over its warp", XLabel: "sheet above (+) or below (−) its mean height, mm", YLabel: "contact force, N", X: Extent{-1.3 * half, 1.3 * half}}
	_, most := coupling.Contact(s.Rig)
	piece := s.Pressed() - most
	bare := func(z float64) float64 { return math.Max(0, float64(l.Preload)-float64(l.Spring)*z*1e-3) }
	xs, alone := over(f.X, 40, bare)
	_, under := over(f.X, 40, func(z float64) float64 { return bare(z) + piece })
	f.Lines = []Line{{"spring alone", Bold, xs, alone}, {"with a piece above", Dashed, xs, under}}
	f.Y = spanOf(alone, under)
	f.Marks = []Mark{{"lowest point of the sheet", -half, false}, {"highest point of the sheet", half, false}}
	f.Caption = fmt.Sprintf("Spring of %v set to %v; the cap rubs with %.2f of this force.", l.Spring, l.Preload, l.Friction)
	return f, true
}

// drawReach is the plan of field, walls and what the magnet reaches.
func (s drawn) drawReach() Figure {
	w, half := s.Rig.Walls, mm(s.Rig.Board.Field())/2
	f := Figure{ID: "reach", Title: "Reach of the magnet's axis", XLabel: "x, mm", YLabel: "y, mm", Equal: true, Lines: s.grid()}
	d := s.study.Sides()
	f.Lines = append(f.Lines, box("walls, inside", Thin, Extent{-mm(w.Left), mm(w.Right)}, Extent{-mm(w.Front), mm(w.Back)}),
		box("reached", Bold, Extent{-mm(d[0].Reach), mm(d[1].Reach)}, Extent{-mm(d[2].Reach), mm(d[3].Reach)}),
		box("needed", Dashed, Extent{-mm(d[0].Need), mm(d[1].Need)}, Extent{-mm(d[2].Need), mm(d[3].Need)}))
	for _, at := range s.Rig.TakenTo() {
		f.Lines = append(f.Lines, ringLine(at, mm(s.Rig.Pieces.Widest())/2, Thin))
	}
	f.Labels = s.names()
	most := half
	for _, v := range []unit.Length{w.Left, w.Right, w.Front, w.Back, d[0].Need, d[1].Need, d[2].Need, d[3].Need, d[0].Reach, d[1].Reach, d[2].Reach, d[3].Reach} {
		most = math.Max(most, mm(v))
	}
	f.X, f.Y = Extent{-1.05 * most, 1.05 * most}, Extent{-1.05 * most, 1.05 * most}
	f.Caption = fmt.Sprintf("Seen from above, White in front. The carriage sticks out %v, %v, %v, %v (left, right, front, back).", s.Rig.Carriage.Left, s.Rig.Carriage.Right, s.Rig.Carriage.Front, s.Rig.Carriage.Back)
	return f
}

// names are the letters and numbers of files and ranks, each in a corner of its
// first square.
func (s drawn) names() (out []Label) {
	side := mm(s.Rig.Board.Square)
	board := s.Rig.Board
	wide, high := float64(board.Files)/2, float64(board.Ranks)/2
	for i := range max(board.Files, board.Ranks) {
		if i < board.Files {
			out = append(out, Label{(float64(i) - wide + 0.25) * side, (0.25 - high) * side, string(rune('a' + i))})
		}
		if i < board.Ranks {
			out = append(out, Label{(0.25 - wide) * side, (float64(i) - high + 0.75) * side, string(rune('1' + i))})
		}
	}
	return out
}

// drawView is what the camera sees: the picture's edge on the board, and each
// piece of the starting position with its lean.
func (s drawn) drawView() (Figure, bool) {
	cam := s.Rig.Camera
	v, err := eye.Over(s.Rig)
	if err != nil || *s.Rig.Pieces.Kinds() != *chess.Kinds { // how another game starts is not known here
		return Figure{}, false
	}
	f := Figure{ID: "view", Title: "Camera view: pieces and their lean at the start of a game", XLabel: "x, mm", YLabel: "y, mm", Equal: true, Lines: s.grid()}
	start := chess.Start()
	for _, sq := range s.Rig.Board.Squares().Squares() {
		if piece := start.At(sq); piece != game.NoPiece {
			if err := s.drawPiece(&f, v, piece.Kind(), sq); err != nil {
				return Figure{}, false
			}
		}
	}
	wide, tall := float64(cam.Image[0])/2*mm(cam.Height)/cam.FocalPixels(), float64(cam.Image[1])/2*mm(cam.Height)/cam.FocalPixels()
	if cam.WhiteSide == "left" || cam.WhiteSide == "right" {
		wide, tall = tall, wide
	}
	f.Lines = append(f.Lines, box("edge of the picture on the board", Bold, Extent{-wide, wide}, Extent{-tall, tall}))
	most := 1.35 * mm(s.Rig.Board.Field()) / 2 // the field fills the drawing; edges farther out are not shown
	f.X, f.Y = Extent{-most, most}, Extent{-most, most}
	f.Caption = fmt.Sprintf("Base and head of each piece as the lens at %.0f mm sees them on the board; heads lean away from the middle. Heads over the edge of their square are in the signal colour.", mm(cam.Height))
	return f, true
}

// drawPiece adds base, head and the lines between them.
func (s drawn) drawPiece(f *Figure, v eye.View, k game.Kind, sq game.Square) error {
	o, err := v.Outline(k, sq)
	if err != nil {
		return err
	}
	stroke := Thin
	if o.Spill(float64(s.Rig.Board.Square)) > 0 {
		stroke = Signal
	}
	f.Lines = append(f.Lines, ringLine(o.Base, o.BaseRadius*1e3, Thin), ringLine(o.Head, o.HeadRadius*1e3, stroke))
	d := o.Head.Sub(o.Base)
	if n := d.Norm(); n > 0 {
		across := frame.Spot[frame.Board]{X: -d.Y / n, Y: d.X / n}
		for _, side := range []float64{-1, 1} {
			a, b := o.Base.Add(across.Scale(side*o.BaseRadius)), o.Head.Add(across.Scale(side*o.HeadRadius))
			f.Lines = append(f.Lines, Line{Stroke: stroke, X: []float64{a.X * 1e3, b.X * 1e3}, Y: []float64{a.Y * 1e3, b.Y * 1e3}})
		}
	}
	return nil
}

// lane is half a square: what separates the edge line from a standing piece.
func (s drawn) lane() float64 { return mm(s.Rig.Board.Square) / 2 }

func mm(l unit.Length) float64 { return float64(l) * 1e3 }

// grid is the field's lines.
func (s drawn) grid() (out []Line) {
	board, side := s.Rig.Board, mm(s.Rig.Board.Square)
	wide, high := float64(board.Files)/2*side, float64(board.Ranks)/2*side
	for i := range max(board.Files, board.Ranks) + 1 {
		x, y := float64(i)*side-wide, float64(i)*side-high
		if i <= board.Files {
			out = append(out, Line{Stroke: Dotted, X: []float64{x, x}, Y: []float64{-high, high}})
		}
		if i <= board.Ranks {
			out = append(out, Line{Stroke: Dotted, X: []float64{-wide, wide}, Y: []float64{y, y}})
		}
	}
	return out
}
