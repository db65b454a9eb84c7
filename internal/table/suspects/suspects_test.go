// SPDX-License-Identifier: Apache-2.0

package suspects

import (
	"encoding/json"
	"errors"
	"slices"
	"testing"

	"boardhand/internal/carry/plan"
	"boardhand/internal/chess"
	"boardhand/internal/diagnosis"
	"boardhand/internal/frame"
	"boardhand/internal/motion"
	"boardhand/internal/rig"
	"boardhand/internal/sight"
	"boardhand/internal/table/model"
	"boardhand/internal/table/places"
)

// What was found outlives the program: what never follows is not tried again
// by the next one, and the part is named anew.
func TestSuspicionsOutliveTheProgram(t *testing.T) {
	layout := places.Layout{Square: rig.Default().Board.Square}
	old, err := New(rig.Default())
	if err != nil {
		t.Fatal(err)
	}
	b := &model.Model{Machine: model.Machine{Layout: layout}, Names: places.Names{}, Game: chess.NewGame(chess.Start()), Offsets: map[chess.Square]sight.Offset{}}
	b.Now.Board = places.BoardOf(chess.Start())
	var kept []diagnosis.Symptom
	for file := range 4 {
		from, to := chess.SquareAt(file, 6), chess.SquareAt(file, 4)
		b.Offsets = map[chess.Square]sight.Offset{from: {Square: from, Sigma: 1e-3}}
		old.Begin(b, nil)
		old.Note(b, plan.Step{Do: plan.Grip})
		old.Note(b, plan.Step{Do: plan.Carry, Piece: b.Now.Board[from], From: from, To: to, PiecePath: []frame.Spot[frame.Board]{layout.Centre(from), layout.Centre(to)}})
		old.Look(b, b.Measured())
		kept = append(kept, old.Fresh()...)
	}
	if len(old.Fresh()) > 0 {
		t.Error("what was handed over to be kept is handed over again")
	}
	var read []diagnosis.Symptom
	text, err := json.Marshal(kept)
	if err == nil {
		err = json.Unmarshal(text, &read)
	}
	if err != nil {
		t.Fatal(err)
	}
	next, err := New(rig.Default())
	if err != nil {
		t.Fatal(err)
	}
	if next.IsUseless("h7") {
		t.Fatal("useless before anything was recalled")
	}
	next.Recall(read)
	if !old.IsUseless("h7") || !next.IsUseless("h7") || len(next.Fresh()) > 0 {
		t.Errorf("useless before the break %v, after it %v", old.IsUseless("h7"), next.IsUseless("h7"))
	}
	if a, z := old.News(), next.News(); len(a) == 0 || len(a) != len(z) || a[0].Cause != z[0].Cause {
		t.Errorf("named before the break: %+v, after it: %+v", a, z)
	}
}

// After a break a piece that was on its way is looked for, and handed over,
// before any plan has begun.
func TestSuspectsBeforeAnyPlan(t *testing.T) {
	s, err := New(rig.Default())
	if err != nil {
		t.Fatal(err)
	}
	b := &model.Model{Machine: model.Machine{Layout: places.Layout{Square: rig.Default().Board.Square}}, Names: places.Names{}}
	queen := chess.MakePiece(chess.Black, chess.Queen)
	w := places.Way{Piece: queen, From: places.Place(chess.SquareAt(3, 4)), To: places.Place(chess.SquareAt(3, 7))}
	s.Handed(b, w.Piece, w.From)
	s.Found(b, w, diagnosis.Sighting{At: b.Layout.Centre(chess.Square(w.To)), Sigma: 1e-3})
	if named := s.machine.Named(); len(named) > 0 {
		t.Errorf("a piece that a person carried accuses %v", named)
	}
}

// A piece that is fetched from no place at all keeps its name, on a machine
// with slots and on one without.
// What went down the trapdoor is not seen there, and that is no fault.
func TestNobodyMissesWhatIsInTheDrawer(t *testing.T) {
	s, err := New(rig.Default())
	if err != nil {
		t.Fatal(err)
	}
	mouth, from := frame.Spot[frame.Board]{X: 0.2}, chess.SquareAt(3, 3)
	b := &model.Model{Machine: model.Machine{Layout: places.Layout{Square: rig.Default().Board.Square, Chute: &mouth}}, Names: places.Names{}, Game: chess.NewGame(chess.Start()),
		Offsets: map[chess.Square]sight.Offset{from: {Square: from, Sigma: 1e-3}}}
	b.Now.Board[from] = chess.MakePiece(chess.White, chess.Knight)
	s.Begin(b, nil)
	s.Note(b, plan.Step{Do: plan.Carry, Piece: b.Now.Board[from], From: from, To: chess.NoSquare, PiecePath: []frame.Spot[frame.Board]{b.Layout.Centre(from), mouth}})
	s.Look(b, diagnosis.Scene{})
	if got := s.machine.Symptoms(); len(got) != 1 || got[0].Outcome != diagnosis.Done {
		t.Errorf("the machine has %+v to say", got)
	}
}

func TestAFetchedPieceKeepsItsName(t *testing.T) {
	pos, err := chess.ParseFEN("rnbqkbnr/pppppppp/8/8/4P3/8/PPPP1PPP/RNBQKBNR b KQkq - 0 1")
	if err != nil {
		t.Fatal(err)
	}
	m, err := pos.ParseUCI("b8c6")
	if err != nil {
		t.Fatal(err)
	}
	g := chess.NewGame(pos)
	for _, slots := range [][]frame.Spot[frame.Board]{nil, {{X: 0.2, Y: 0.1}}} {
		b := &model.Model{Machine: model.Machine{Layout: places.Layout{Square: rig.Default().Board.Square, Slots: slots}}, Names: places.Names{}, Game: g, Decided: m}
		knight := chess.MakePiece(chess.Black, chess.Knight)
		s := plan.Step{Do: plan.Carry, Piece: knight, From: chess.NoSquare, To: m.To(),
			PiecePath: []frame.Spot[frame.Board]{{X: -0.07, Y: 0.09}, {X: -0.06, Y: 0.06}}}
		if w := b.Way(s); w.From != places.Place(m.From()) || b.Identity(knight, w.From).ID != "b8" {
			t.Errorf("with %d slots it comes from %v", len(slots), w.From)
		}
	}
}

// A piece that stayed is judged before a person is asked to move it; what the
// person did is not put down to the machine.
func TestWhatAPersonMovedHasNotArrived(t *testing.T) {
	s, err := New(rig.Default())
	if err != nil {
		t.Fatal(err)
	}
	pos := chess.Start()
	m, err := pos.ParseUCI("e2e4")
	if err != nil {
		t.Fatal(err)
	}
	from, to := chess.SquareAt(4, 1), chess.SquareAt(4, 3)
	b := &model.Model{Machine: model.Machine{Layout: places.Layout{Square: rig.Default().Board.Square}, Side: pos.SideToMove()}, Names: places.Names{}, Vouched: map[places.Place]bool{}, Game: chess.NewGame(pos), Decided: m,
		Offsets: map[chess.Square]sight.Offset{from: {Square: from, Sigma: 1e-3}}}
	b.Now.Board = places.BoardOf(pos)
	s.Begin(b, nil)
	pawn := pos.At(from)
	s.Note(b, plan.Step{Do: plan.Carry, Piece: pawn, From: from, To: to, PiecePath: []frame.Spot[frame.Board]{b.Layout.Centre(from), b.Layout.Centre(to)}})
	b.Move(pawn, places.Place(from), places.Place(to))
	b.StayedBehind(false)
	s.Look(b, b.Measured())
	s.Forget()
	b.Now.Board = places.BoardOf(pos.After(m))
	b.Offsets = map[chess.Square]sight.Offset{to: {Square: to, Sigma: 1e-3}}
	s.Look(b, b.Measured())
	got := s.machine.Symptoms()
	if len(got) != 1 || got[0].Outcome != diagnosis.Stayed {
		t.Errorf("the machine has %+v to say", got)
	}
	b.Now.Board = places.BoardOf(pos)
	b.Settle(m)
	if id := b.Identity(pawn, places.Place(to)).ID; id != "e2" {
		t.Errorf("moved by hand the pawn of e2 is called that of %s", id)
	}
}

// A piece that was lost on its way is fetched from where it was seen, not from where it
// began: if it lies there untouched afterwards, it has stayed.
func TestAFetchedPieceBeganWhereItWasSeen(t *testing.T) {
	s, err := New(rig.Default())
	if err != nil {
		t.Fatal(err)
	}
	pos := chess.Start()
	e7, e6 := chess.SquareAt(4, 6), chess.SquareAt(4, 5)
	b := &model.Model{Machine: model.Machine{Layout: places.Layout{Square: rig.Default().Board.Square}}, Names: places.Names{}, Game: chess.NewGame(pos),
		Offsets: map[chess.Square]sight.Offset{e7: {Square: e7, Sigma: 1e-3}}}
	b.Now.Board = places.BoardOf(pos)
	from, to := b.Layout.Centre(e7), b.Layout.Centre(e6)
	lies := diagnosis.Sighting{At: from.Add(frame.Spot[frame.Board]{X: 0.03, Y: 0.028}), Sigma: 1e-3}
	w := places.Way{Piece: pos.At(e7), From: places.Place(e7), To: places.Place(e6)}
	for range 2 {
		s.Begin(b, nil)
		s.Note(b, plan.Step{Do: plan.Carry, Piece: w.Piece, From: e7, To: e6, Path: []frame.Spot[frame.Board]{from, to}, PiecePath: []frame.Spot[frame.Board]{from, to}})
		s.Slipped(b, w, lies, func() []diagnosis.Detection { return nil })
	}
	got := s.machine.Symptoms()
	if len(got) != 2 || got[0].Outcome != diagnosis.Short || got[1].Outcome != diagnosis.Stayed || got[1].From != lies.At {
		t.Errorf("told are %+v", got)
	}
}

// dragged is a machine that has driven from a6 to d5 and carried d5 to c4.
func dragged(t *testing.T) (*Suspects, *model.Model) {
	t.Helper()
	s, err := New(rig.Default())
	if err != nil {
		t.Fatal(err)
	}
	pos, err := chess.ParseFEN("4k3/8/p7/3p4/2N5/8/8/4K3 b - - 0 1")
	if err != nil {
		t.Fatal(err)
	}
	b := &model.Model{Machine: model.Machine{Layout: places.Layout{Square: rig.Default().Board.Square}}, Names: places.Names{}, Game: chess.NewGame(pos),
		Offsets: map[chess.Square]sight.Offset{a6: {Square: a6, Sigma: 1e-3}, d5: {Square: d5, Sigma: 1e-3}}}
	b.Now.Board = places.BoardOf(pos)
	s.Begin(b, nil)
	from, to := b.Layout.Centre(d5), b.Layout.Centre(c4)
	s.Note(b, plan.Step{Do: plan.Travel, Path: []frame.Spot[frame.Board]{b.Layout.Centre(a6), from}})
	s.Note(b, plan.Step{Do: plan.Carry, Piece: pos.At(d5), From: d5, To: c4, Path: []frame.Spot[frame.Board]{from, to}, PiecePath: []frame.Spot[frame.Board]{from, to}})
	return s, b
}

var a6, d5, c4 = chess.SquareAt(0, 5), chess.SquareAt(3, 4), chess.SquareAt(2, 3)

// blackOn are black pieces in the middle of squares.
func blackOn(b *model.Model, on ...chess.Square) Detections {
	return func() (out []diagnosis.Detection) {
		for _, q := range on {
			out = append(out, diagnosis.Detection{Side: chess.Black.String(), Sighting: diagnosis.Sighting{At: b.Layout.Centre(q), Sigma: 1e-3}})
		}
		return out
	}
}

// toldOf is what a machine has done to pieces, "pushed a6".
func toldOf(s *Suspects) (out []string) {
	for _, y := range s.machine.Symptoms() {
		if y.Outcome != diagnosis.Done {
			out = append(out, string(y.Outcome)+" "+y.Piece.ID)
		}
	}
	return out
}

// A picture that no move explains still tells which pieces the machine dragged
// along: the one that it carried last stands where the next one was to go.
func TestADisorderTellsWhoWasDragged(t *testing.T) {
	s, b := dragged(t)
	s.Disorder(b, blackOn(b, c4, d5))
	if got, want := toldOf(s), []string{"stayed d5", "pushed a6"}; !slices.Equal(got, want) {
		t.Errorf("told are %q, want %q", got, want)
	}
}

// A look at single places does not find the piece that stood at one of them: the next one,
// at all that the picture shows, still tells that it was dragged along, and once.
func TestWhoWasNotSeenAtFirstIsLookedForOnceMore(t *testing.T) {
	s, b := dragged(t)
	s.Look(b, diagnosis.Scene{b.Identity(b.Now.Board[d5], places.Place(d5)): {At: b.Layout.Centre(d5), Sigma: 1e-3}})
	for range 2 {
		s.Disorder(b, blackOn(b, c4, d5))
	}
	if got, want := toldOf(s), []string{"stayed d5", "pushed a6"}; !slices.Equal(got, want) {
		t.Errorf("told are %q, want %q", got, want)
	}
}

// A piece that was carried into the tray and seen there goes along with the carriage to
// the next one, and on to where that was to go: it has been dragged. The table knows it
// there again, and not in the tray.
func TestWhoWasTakenOffIsDraggedBack(t *testing.T) {
	r := rig.Default()
	r.Pieces.Carried = "both"
	s, err := New(r)
	if err != nil {
		t.Fatal(err)
	}
	pos, err := chess.ParseFEN("4k3/8/8/3p4/2N5/8/8/4K3 b - - 0 1")
	if err != nil {
		t.Fatal(err)
	}
	m, err := pos.ParseUCI("d5c4")
	if err != nil {
		t.Fatal(err)
	}
	slot := frame.Spot[frame.Board]{X: -0.2, Y: 0.02}
	b := &model.Model{Machine: model.Machine{Layout: places.Layout{Square: rig.Default().Board.Square, Slots: []frame.Spot[frame.Board]{slot}}}, Names: places.Names{}, Game: chess.NewGame(pos), Decided: m,
		Vouched: map[places.Place]bool{}, Offsets: map[chess.Square]sight.Offset{d5: {Square: d5, Sigma: 1e-3}, c4: {Square: c4, Sigma: 1e-3}}}
	b.Now.Board = places.BoardOf(pos)
	knight, pawn, at, from := pos.At(c4), pos.At(d5), b.Layout.Centre(c4), b.Layout.Centre(d5)
	s.Begin(b, nil)
	off := plan.Step{Do: plan.Carry, Piece: knight, From: c4, To: chess.NoSquare, Path: []frame.Spot[frame.Board]{at, slot}, PiecePath: []frame.Spot[frame.Board]{at, slot}}
	s.Note(b, off)
	w := b.Way(off)
	s.Found(b, w, diagnosis.Sighting{At: slot, Sigma: 1e-3})
	b.Move(w.Piece, w.From, w.To)
	s.Note(b, plan.Step{Do: plan.Travel, Path: []frame.Spot[frame.Board]{slot, from}})
	s.Note(b, plan.Step{Do: plan.Carry, Piece: pawn, From: d5, To: c4, Path: []frame.Spot[frame.Board]{from, at}, PiecePath: []frame.Spot[frame.Board]{from, at}})
	b.Move(pawn, places.Place(d5), places.Place(c4))
	b.StayedBehind(true)
	s.Look(b, b.Measured())
	if got, want := toldOf(s), []string{"arrived c4", "stayed d5", "pushed c4"}; !slices.Equal(got, want) {
		t.Errorf("told are %q, want %q", got, want)
	}
	if b.Now.Board != places.BoardOf(pos) || len(b.Now.Beside) > 0 {
		t.Errorf("the table has the pieces at %v", b.Now)
	}
	if got := s.News(); len(got) != 1 || got[0].Cause != diagnosis.LiftStaysUp {
		t.Errorf("named: %+v", got)
	}
}

// Axes that stall and lag because the wire to their controller does are not accused: the wire is,
// by its own name. A stroke that lagged has arrived, one that was broken off has not, and what it
// was to carry is not taken for left behind.
func TestTheWireIsNamedNotTheAxis(t *testing.T) {
	s, err := New(rig.Default())
	if err != nil {
		t.Fatal(err)
	}
	b := &model.Model{Machine: model.Machine{Layout: places.Layout{Square: rig.Default().Board.Square}}, Names: places.Names{}, Game: chess.NewGame(chess.Start()), Offsets: map[chess.Square]sight.Offset{}}
	b.Now.Board = places.BoardOf(chess.Start())
	from, to := chess.SquareAt(3, 6), chess.SquareAt(3, 4)
	carry := plan.Step{Do: plan.Carry, Piece: b.Now.Board[from], From: from, To: to, PiecePath: []frame.Spot[frame.Board]{b.Layout.Centre(from), b.Layout.Centre(to)}}
	for k := range 12 {
		s.Begin(b, nil)
		s.Note(b, carry)
		if err := s.Drove(carry, nil); err != nil {
			t.Fatal(err)
		}
		s.Forget()
		if k%3 > 0 {
			continue
		}
		s.Note(b, carry)
		if err := s.Drove(carry, &motion.Spoilt{Err: &motion.Stall{Axis: "x"}}); err == nil {
			t.Error("a stroke that was broken off has arrived")
		}
		s.Look(b, b.Measured()) // the piece still stands where it was
		if err := s.Drove(carry, &motion.Spoilt{Err: &motion.Lag{Axis: "x"}}); err != nil {
			t.Errorf("a stroke that arrived: %v", err)
		}
	}
	for _, y := range s.Fresh() {
		if y.Outcome != diagnosis.BrokenOff {
			t.Errorf("noted: %+v", y)
		}
	}
	if err := s.Drove(carry, errors.New("an alarm")); err == nil || len(s.Fresh()) > 0 {
		t.Errorf("an alarm: %v", err)
	}
	named := s.News()
	if len(named) != 1 || named[0].Cause != diagnosis.ControllerWire {
		t.Errorf("named: %+v", named)
	}
}
