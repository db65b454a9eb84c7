// SPDX-License-Identifier: Apache-2.0

package table

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	"boardhand/internal/carry"
	"boardhand/internal/carry/plan"
	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/motion"
	"boardhand/internal/notice"
	"boardhand/internal/photo"
	"boardhand/internal/rig"
	"boardhand/internal/sight"
	"boardhand/internal/table/journal"
	"boardhand/internal/table/places"
)

// paper is a table made of text: what the camera shows comes from a script,
// one word group a picture, and everything the table does is written down.
//
//	same | hand | move e2e4 | unsure e2e4 d2d4 | partial e1,g1 | illegal e2,e5
//	askew b1 | straight b1 (same, with the piece measured 5 or 1 mm off)
//	slipped e7 (a stray of the machine's side) | broken (no picture)
type paper struct {
	t        *testing.T
	script   []string
	shown    int
	pos      chess.Position
	player   []string
	answers  []int
	was      journal.State // of the last record
	trace    []string      // states and moves, each once
	said     []string      // sentences
	done     []string      // gantry
	stalls   int
	unplugs  int  // how often, from the first motion on, the controller is not there
	isPulled bool // its plug
	logFail  bool
	scenes   []plan.Scene              // that plans were asked for
	slots    []frame.Spot[frame.Board] // of the tray
	chute    *frame.Spot[frame.Board]
	setUp    []plan.Step             // the plan of the next set-up
	setTo    string                  // where it leads to
	plan     []plan.Step             // instead of the usual plan of a move
	records  []journal.Record        // all that was logged
	carried  [2]bool                 // by side: feet with magnets; neither: Black's
	atEnd    journal.Request         // made when the game is over
	requests map[int]journal.Request // made when picture n is taken
	places   map[string]string       // what single places show, by square or slot: "P", "." for none; nil: nothing is open
	shoved   map[string]int          // squares, and from which picture on their pieces stand over the line
	aside    float64                 // how far off its slot's middle a piece is seen, metres
	strays   map[int][]sight.Stray   // seen in picture n
	weight   int                     // how the game stands for the machine
	offered  string                  // how strongly the machine plays as it begins; "": cannot be chosen
	strength string                  // and was told to play
	jpeg     bool                    // pictures have bytes
	frozen   bool                    // always the same ones
	log      Log                     // nil: the paper itself
	before   func()                  // just before the table runs
	agreed   []string                // positions that a person agreed to
	past     journal.Past            // what an earlier session left, besides the game
	table    *Table
	cancel   context.CancelFunc
}

func (p *paper) Look(context.Context) (photo.Picture, error) {
	if p.shown >= len(p.script) {
		p.cancel()
		return photo.Picture{}, context.Canceled
	}
	p.shown++
	if w, ok := p.requests[p.shown]; ok {
		if err := p.table.Request(w); err != nil {
			p.said = append(p.said, "refused: "+err.Error())
		}
	}
	if p.script[p.shown-1] == "broken" {
		return photo.Picture{}, errors.New("no picture came: is the camera plugged in?")
	}
	pic := photo.Picture{Name: fmt.Sprint(p.shown)}
	if p.jpeg {
		pic.JPEG = []byte(pic.Name)
		if p.frozen {
			pic.JPEG = []byte("frozen")
		}
	}
	return pic, nil
}

func (p *paper) Read(context.Context, photo.Picture) (sight.Reading, error) {
	w := strings.Fields(p.script[p.shown-1])
	r := sight.Reading{State: sight.State(w[0]), Belief: 0.999}
	switch w[0] {
	case "move":
		r.Move = p.uci(w[1])
	case "unsure":
		for _, m := range w[1:] {
			r.Candidates = append(r.Candidates, sight.Candidate{Move: p.uci(m), Belief: 0.5})
		}
	case "partial", "illegal":
		r.Squares = squares(w[1])
	case "askew", "straight":
		r.State = sight.Same
		off := map[string]float64{"askew": 0.005, "straight": 0.001}[w[0]]
		r.Offsets = []sight.Offset{{Square: squares(w[1])[0], Delta: frame.Spot[frame.Board]{X: off}, Sigma: 0.0002}}
	case "slipped":
		r.State, r.Squares = sight.Illegal, squares(w[1])
	}
	return r, nil
}

func squares(text string) []chess.Square {
	var out []chess.Square
	for s := range strings.SplitSeq(text, ",") {
		out = append(out, chess.SquareAt(int(s[0]-'a'), int(s[1]-'1')))
	}
	return out
}

func (p *paper) uci(text string) chess.Move {
	if text == "0000" { // nothing
		return 0
	}
	m, err := p.pos.ParseUCI(text)
	if err != nil {
		p.t.Fatalf("picture %d: %v", p.shown, err)
	}
	return m
}

func (p *paper) Accept(m chess.Move) error {
	if !p.pos.Legal(m) {
		return fmt.Errorf("%s is not legal", m)
	}
	p.pos = p.pos.After(m)
	return nil
}

func (p *paper) Reposition(pos chess.Position) { p.pos = pos }

func (p *paper) Agree(pos chess.Position) {
	p.pos = pos
	p.agreed = append(p.agreed, pos.FEN())
}

func (p *paper) Afresh() { p.done = append(p.done, "afresh") }

func (p *paper) Glance(ctx context.Context, pic photo.Picture) (sight.Reading, error) {
	r, err := p.Read(ctx, pic)
	if r.State != sight.Hand {
		r.State = sight.Same
	}
	return r, err
}

// Present tells of a place what the script says of it.
func (p *paper) Present(at []frame.Spot[frame.Board]) []sight.Presence {
	out := make([]sight.Presence, len(at))
	for i, spot := range at {
		out[i] = sight.Presence{At: spot, Found: spot}
		if p.places == nil {
			continue
		}
		out[i].Open, out[i].Sure = true, 0.999
		piece, ok := places.PieceOf(p.places[nameOf(p.table, spot)])
		if out[i].Belief = 0.001; ok {
			out[i].Belief, out[i].Side = 0.999, piece.Color()
			if n := p.shoved[nameOf(p.table, spot)]; n > 0 && p.shown >= n {
				out[i].Found.Y += 0.016
			}
			if strings.HasPrefix(nameOf(p.table, spot), "slot") {
				out[i].Found.Y += p.aside
			}
		}
	}
	return out
}

// nameOf is the square or slot at a spot.
func nameOf(t *Table, at frame.Spot[frame.Board]) string {
	for p := places.Place(0); p < places.Slot+places.Place(len(t.kit.m.Layout.Slots)); p++ {
		if spot, ok := t.kit.m.Layout.SpotOf(p); ok && spot.Distance(at) < 0.001 {
			return p.String()
		}
	}
	return ""
}

func (p *paper) Strangers([]frame.Spot[frame.Board]) []sight.Stray { return p.strays[p.shown] }

func (p *paper) Weigh(context.Context, *chess.Game) (int, error) { return p.weight, nil }

func (p *paper) Expect(m chess.Move) {
	if !p.pos.Legal(m) {
		p.t.Errorf("%v is expected and not legal", m)
	}
}

func (p *paper) Resolve(m chess.Move) error {
	if m == 0 {
		return nil
	}
	return p.Accept(m)
}

func (p *paper) Seek(chess.Square, []chess.Square) (sight.Stray, bool) {
	slipped := strings.HasPrefix(p.script[p.shown-1], "slipped")
	return sight.Stray{Side: chess.Black, At: frame.Spot[frame.Board]{X: 0.01, Y: 0.02}}, slipped
}

func (p *paper) Move(_ context.Context, _ plan.Scene, pos chess.Position, m chess.Move) (plan.Plan, error) {
	if p.plan != nil {
		return plan.Plan{Steps: p.plan}, nil
	}
	var steps []plan.Step
	if v, at := pos.Captured(m); v != chess.NoPiece {
		steps = append(steps, plan.Step{Do: plan.Ask, Piece: v, From: at, To: chess.NoSquare, Text: "Please take it."})
	}
	return plan.Plan{Steps: append(steps, trip(pos.At(m.From()), m.From(), m.To())...)}, nil
}

func (p *paper) Straighten(_ context.Context, s plan.Scene, i int, to chess.Square) (plan.Plan, error) {
	p.done = append(p.done, "fetch")
	return plan.Plan{Steps: trip(s.Pieces[i].Piece, chess.NoSquare, to)}, nil
}

func (p *paper) TakeBack(_ context.Context, _ plan.Scene, before chess.Position, m chess.Move) (plan.Plan, error) {
	piece := before.At(m.From())
	if piece.Color() == chess.White {
		return plan.Plan{Steps: []plan.Step{{Do: plan.Ask, Piece: piece, From: m.To(), To: m.From(), Text: "Please move it back."}}}, nil
	}
	return plan.Plan{Steps: trip(piece, m.To(), m.From())}, nil
}

func (p *paper) SetUpTo(_ context.Context, s plan.Scene, to chess.Position) (plan.Plan, float64, error) {
	p.scenes, p.setTo = append(p.scenes, s), to.FEN()
	return plan.Plan{Steps: p.setUp}, 0, nil
}

func (p *paper) Resume(_ context.Context, s plan.Scene, pos chess.Position, m chess.Move) (plan.Plan, error) {
	p.done = append(p.done, "replan")
	p.scenes = append(p.scenes, s)
	return plan.Plan{Steps: trip(pos.At(m.From()), m.From(), m.To())}, nil
}

func (p *paper) Rest(_ context.Context, s plan.Scene, steps []plan.Step) (plan.Plan, error) {
	p.done = append(p.done, "replan")
	p.scenes = append(p.scenes, s)
	if len(steps) == 1 && len(steps[0].Path) == 0 { // one piece to be brought
		all := trip(steps[0].Piece, steps[0].From, steps[0].To)
		all[2].PiecePath = steps[0].PiecePath
		return plan.Plan{Steps: all}, nil
	}
	return plan.Plan{Steps: steps}, nil
}

func (p *paper) SlotFor(s plan.Scene, i int) (frame.Spot[frame.Board], bool) {
	if len(p.slots) == 0 || !s.Pieces[i].Magnet {
		return frame.Spot[frame.Board]{}, false
	}
	return p.slots[0], true
}

func trip(piece chess.Piece, from, to chess.Square) []plan.Step {
	path := []frame.Spot[frame.Board]{{}, {X: 0.01}}
	return []plan.Step{
		{Do: plan.Travel, Path: path}, {Do: plan.Grip, Piece: piece, From: from, To: from},
		{Do: plan.Carry, Path: path, Piece: piece, From: from, To: to}, {Do: plan.Release, Piece: piece, From: to, To: to},
	}
}

func (p *paper) Choose(_ context.Context, g *chess.Game) (chess.Move, error) {
	if len(p.player) == 0 {
		p.cancel()
		return 0, errors.New("the player has no move left")
	}
	m := p.player[0]
	p.player = p.player[1:]
	pos := g.Position()
	return pos.ParseUCI(m)
}

func (p *paper) Append(_ context.Context, r journal.Record) error {
	if p.logFail {
		return errors.New("no space left on device")
	}
	p.records = append(p.records, r)
	switch {
	case r.Move != 0:
		p.trace = append(p.trace, r.Move.String())
	case p.was != r.State:
		p.trace = append(p.trace, string(r.State))
	}
	p.was = r.State
	return nil
}

func (p *paper) Advise(context.Context, *chess.Game) (chess.Move, error) {
	return p.uci("b1a3"), nil
}

func (p *paper) SetStrength(name string) error {
	p.strength = name
	return nil
}

func (p *paper) Tell(_ context.Context, n notice.Notice) error {
	p.said = append(p.said, n.Text)
	if strings.Contains(n.Text, "press Resume") {
		go p.resume()
	}
	return nil
}

// resume lets the game go on as soon as that is waited for.
func (p *paper) resume() {
	for p.table.Request(journal.Request{Kind: journal.RequestResume}) != nil {
		time.Sleep(time.Millisecond)
	}
}

func (p *paper) Ask(context.Context, notice.Question) (int, error) {
	if len(p.answers) == 0 {
		return 0, errors.New("asked although there is no answer in the script")
	}
	a := p.answers[0]
	p.answers = p.answers[1:]
	return a, nil
}

// errUnplugged is what a driver says whose controller is not there.
var errUnplugged = &motion.Gone{Why: errors.New("/dev/serial/by-id/usb-x is not there: plug the controller in")}

// motors is the gantry of the paper table.
type motors struct{ p *paper }

func (m motors) Home(context.Context) (frame.Spot[frame.Machine], error) {
	m.p.done = append(m.p.done, "home")
	if m.p.isPulled && m.p.unplugs > 0 {
		m.p.unplugs--
		return frame.Spot[frame.Machine]{}, errUnplugged
	}
	return frame.Spot[frame.Machine]{}, nil
}

func (m motors) Move(_ context.Context, s motion.Stroke) (frame.Spot[frame.Machine], error) {
	end := s.Path[len(s.Path)-1]
	if m.p.stalls > 0 {
		m.p.stalls--
		return end, errors.New("the x axis has stalled")
	}
	if m.p.unplugs > 0 {
		m.p.unplugs, m.p.isPulled = m.p.unplugs-1, true
		return s.Path[0], errUnplugged
	}
	m.p.done = append(m.p.done, "move")
	return end, nil
}

func (m motors) Lift(_ context.Context, up bool) error {
	m.p.done = append(m.p.done, map[bool]string{true: "up", false: "down"}[up])
	return nil
}

func (m motors) Halt() error {
	m.p.done = append(m.p.done, "halt")
	return nil
}

// run plays the script from a position.
func (p *paper) run(t *testing.T, fen string, decided string) error {
	t.Helper()
	p.t, p.pos = t, chess.Start()
	if fen != "" {
		var err error
		if p.pos, err = chess.ParseFEN(fen); err != nil {
			t.Fatal(err)
		}
	}
	var m chess.Move
	if decided != "" {
		m = p.uci(decided)
	}
	r := rig.Default()
	s := Settings{Machine: Machine{Side: chess.Black, Carried: [2]bool{false, true}, Layout: places.Layout{Square: r.Board.Square, Slots: p.slots, Chute: p.chute}},
		Gearing: carry.NewGearing(r, r.MachineFromBoard()), Patience: time.Microsecond, Strength: p.offered}
	if p.carried != [2]bool{} {
		s.Machine.Carried = p.carried
	}
	ctx, cancel := context.WithTimeout(context.Background(), 10*time.Minute)
	defer cancel()
	p.cancel = cancel
	past := p.past
	if past.Decided = m; past.Game == nil {
		past.Game = chess.NewGame(p.pos)
	}
	p.pos = past.Game.Position()
	var log Log = p
	if p.log != nil {
		log = p.log
	}
	p.table = New(Parts{Camera: p, Gantry: motors{p}, Guest: p, Eye: Eye{Reader: p, Witness: p, Follower: p, Learner: p}, Planner: Planner{p, p}, Player: p, Log: log}, s, past, nil)
	t.Cleanup(func() {
		for _, u := range p.table.Unlisted() {
			t.Errorf("the state table does not have %s", u)
		}
	})
	if p.before != nil {
		p.before()
	}
	if err := p.table.Run(ctx); err != nil || p.atEnd.Kind == "" {
		return err
	}
	if err := p.table.Request(p.atEnd); err != nil {
		return err
	}
	return p.table.Grant(ctx)
}

// did is what the gantry and the planner did, without the halt at the end.
func (p *paper) did() string { return strings.TrimSuffix(strings.Join(p.done, " "), " halt") }

func (p *paper) says(t *testing.T, want string) {
	t.Helper()
	for _, s := range p.said {
		if strings.Contains(s, want) {
			return
		}
	}
	t.Errorf("nobody said %q; said: %q", want, p.said)
}

func (p *paper) traced(t *testing.T, want string) {
	t.Helper()
	if got := strings.Join(p.trace, " "); !strings.HasPrefix(got, want) {
		t.Errorf("trace\n got %s\nwant %s …", got, want)
	}
}
