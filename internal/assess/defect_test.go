// SPDX-License-Identifier: Apache-2.0

package assess

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"testing"

	"boardhand/internal/assess/line"
	"boardhand/internal/game"
	"boardhand/internal/rig"
)

// A kind of defect: the line that must fail by it, and how it is written into a rig file.
// How much is drawn beyond where plain arithmetic on the rig's own numbers, given here,
// says that the machine cannot work; nil where the rig has no such part.
type kindOfDefect struct {
	name, line string
	of         func(r *rig.Rig, u func(from, to float64) float64) []Setting
}

func in(unit, key string, v float64) Setting {
	return Setting{Key: key, Value: fmt.Sprintf("%q", fmt.Sprintf("%.6g %s", v, unit))}
}
func bare(key string, v float64) Setting { return Setting{Key: key, Value: fmt.Sprintf("%.4g", v)} }

// axisDefects are those of one axis.
func axisDefects(name string, of func(*rig.Rig) *rig.Axis) []kindOfDefect {
	key := "axis." + name + "."
	return []kindOfDefect{
		{"weak motor " + name, "drive." + name, func(r *rig.Rig, u func(float64, float64) float64) []Setting {
			return []Setting{in("N·m", key+"motor.stall_torque", max(0.001, float64(of(r).Motor.StallTorque)*u(0.003, 0.012)))}
		}},
		{"heavy carriage " + name, "drive." + name, func(r *rig.Rig, u func(float64, float64) float64) []Setting {
			return []Setting{in("N", key+"friction", u(60, 90))} // gears of these rigs give 10 to 20 N
		}},
		{"play " + name, "drive.backlash", func(_ *rig.Rig, u func(float64, float64) float64) []Setting {
			return []Setting{in("mm", key+"backlash", u(2.2, 4))} // a quarter must stay below 0.5 mm
		}},
		{"slow " + name, "drive.time", func(r *rig.Rig, u func(float64, float64) float64) []Setting {
			return []Setting{in("mm/s", key+"speed", 7*mm(r.Board.Square)/u(22, 60))} // seven squares in more than 20 s
		}},
		{"short travel " + name, "reach.field", func(r *rig.Rig, u func(float64, float64) float64) []Setting {
			if of(r).Origin != of(r).Travel/2 {
				return nil
			}
			return []Setting{in("mm", key+"travel", 7*mm(r.Board.Square)-u(1, 30))}
		}},
		{"coarse " + name, "drive.resolution", func(r *rig.Rig, u func(float64, float64) float64) []Setting {
			a := of(r) // a count of more than 0.25 mm
			turn := map[string]float64{"rack": math.Pi * mm(a.Module) * float64(a.Teeth), "belt": mm(a.Pitch) * float64(a.Teeth), "screw": mm(a.Lead)}[a.Drive]
			return []Setting{bare(key+"motor.counts", math.Floor(turn/max(1, a.Motor.Gearing)/u(0.35, 1)))}
		}},
	}
}

// wall is a wall so near that the carriage cannot get to the outermost squares.
func wall(side string, out func(*rig.Rig) float64) kindOfDefect {
	return kindOfDefect{"near wall " + side, "reach.field", func(r *rig.Rig, u func(float64, float64) float64) []Setting {
		return []Setting{in("mm", "walls."+side, 3.5*mm(r.Board.Square)+out(r)-u(1, 20))}
	}}
}

// weightOfBoard is that of the sheet, newtons, by plywood's 600 kg/m³ where it is not given.
func weightOfBoard(r *rig.Rig) float64 {
	x, y := r.Board.Sheet()
	if r.Board.Mass > 0 {
		return 9.81 * float64(r.Board.Mass)
	}
	return 9.81 * 600 * 4 * float64(x) * float64(y) * float64(r.Board.Thickness)
}

var kindsOfDefect = append(append(axisDefects("x", func(r *rig.Rig) *rig.Axis { return &r.Axis.X }), axisDefects("y", func(r *rig.Rig) *rig.Axis { return &r.Axis.Y })...), []kindOfDefect{
	wall("left", func(r *rig.Rig) float64 { return mm(r.Carriage.Left) }), wall("right", func(r *rig.Rig) float64 { return mm(r.Carriage.Right) }),
	wall("front", func(r *rig.Rig) float64 { return mm(r.Carriage.Front) }), wall("back", func(r *rig.Rig) float64 { return mm(r.Carriage.Back) }),
	{"thick board", "pull.hold", func(r *rig.Rig, u func(float64, float64) float64) []Setting {
		return []Setting{in("mm", "board.thickness", mm(r.Lift.Diameter)*u(1.6, 2))} // forces are gone at twice the magnet's width
	}},
	{"deep magnets", "pull.hold", func(r *rig.Rig, u func(float64, float64) float64) []Setting {
		return []Setting{in("mm", "pieces.magnet.recess", 10), in("mm", "lift.air", u(6, 10))}
	}},
	{"heavy king", "pull.hold", func(r *rig.Rig, u func(float64, float64) float64) []Setting {
		return []Setting{in("g", "pieces.king.mass", min(299, 1e3*float64(r.Pieces.Of(game.King).Mass)*u(17, 22)))}
	}},
	{"rough board", "pull.hold", func(r *rig.Rig, u func(float64, float64) float64) []Setting {
		return []Setting{bare("board.friction", 1.5), bare("board.kinetic", u(1.1, 1.5)), in("mm", "board.thickness", 1.5*mm(r.Board.Thickness))}
	}},
	{"sticking bases", "drag.settle", func(r *rig.Rig, u func(float64, float64) float64) []Setting {
		return []Setting{bare("board.friction", 2.2*r.Board.Friction), bare("board.kinetic", r.Board.Friction*u(0.12, 0.2))}
	}},
	{"small drop", "neighbours.lowered", func(r *rig.Rig, u func(float64, float64) float64) []Setting {
		return []Setting{in("mm", "lift.drop", mm(r.Lift.Drop)*u(0.1, 0.3))}
	}},
	{"strong drive magnet", "neighbours.raised", func(r *rig.Rig, u func(float64, float64) float64) []Setting {
		return []Setting{in("mm", "lift.diameter", mm(r.Board.Square)*u(0.6, 0.75)), in("mm", "lift.thickness", u(10, 15)), in("mm", "lift.drop", 70), in("mm", "walls.height", 200)}
	}},
	{"light pawn", "neighbours.raised", func(_ *rig.Rig, u func(float64, float64) float64) []Setting {
		return []Setting{in("g", "pieces.pawn.mass", 0.5), in("mm", "lift.drop", 70), in("mm", "walls.height", u(200, 220))}
	}},
	{"wide king", "lanes.foot", func(r *rig.Rig, u func(float64, float64) float64) []Setting {
		return []Setting{in("mm", "pieces.king.base", mm(r.Board.Square)*u(0.51, 0.6))}
	}},
	{"wide rooks", "lanes.foot", func(r *rig.Rig, u func(float64, float64) float64) []Setting {
		return []Setting{in("mm", "pieces.rook.base", mm(r.Board.Square)*u(0.51, 0.6))}
	}},
	{"small squares", "lanes.foot", func(r *rig.Rig, u func(float64, float64) float64) []Setting {
		return []Setting{in("mm", "board.square", max(15, 2*mm(r.Pieces.Of(game.King).Base)*u(0.85, 0.98)))}
	}},
	{"narrow pawn", "tip.foot", func(r *rig.Rig, u func(float64, float64) float64) []Setting {
		if mm(r.Pieces.Magnet.Diameter) < 4.1 {
			return nil // no base is smaller than 4 mm
		}
		return []Setting{in("mm", "pieces.pawn.base", max(4, mm(r.Pieces.Magnet.Diameter)*u(0.6, 0.9)))}
	}},
	{"no spring", "lift.contact", func(r *rig.Rig, u func(float64, float64) float64) []Setting {
		return []Setting{in("N/mm", "lift.spring", 0), in("mm", "board.warp", u(0.3, 1))}
	}},
	{"loose spring", "lift.contact", func(r *rig.Rig, u func(float64, float64) float64) []Setting {
		return []Setting{in("N", "lift.preload", u(0, 0.9)*float64(r.Lift.Spring)*float64(r.Board.Warp)/2)}
	}},
	{"spring that lifts the board", "board.pressed", func(r *rig.Rig, u func(float64, float64) float64) []Setting {
		if r.Board.Held == "fastened" {
			return nil
		}
		return []Setting{in("N", "lift.preload", min(49, weightOfBoard(r)*u(1.1, 2)))}
	}},
	{"low box", "lift.room", func(r *rig.Rig, u func(float64, float64) float64) []Setting {
		return []Setting{in("mm", "walls.height", mm(r.Lift.Air+r.Lift.Drop+r.Carriage.Height)-u(1, 20))}
	}},
	{"board on nothing", "board.held", func(r *rig.Rig, u func(float64, float64) float64) []Setting {
		half := 4*mm(r.Board.Square) + mm(r.Board.Border)
		if r.Board.Held != "walls" || half > mm(min(r.Walls.Left, r.Walls.Right, r.Walls.Front, r.Walls.Back)) {
			return nil
		}
		return []Setting{in("mm", "board.rim", 0)}
	}},
	{"weak lift", "lift.force", func(r *rig.Rig, u func(float64, float64) float64) []Setting {
		return []Setting{in("N", "lift.force", max(0.1, float64(r.Lift.Preload)*u(0.3, 0.9)))}
	}},
	{"rods", "lift.steel", func(_ *rig.Rig, u func(float64, float64) float64) []Setting {
		return []Setting{in("mm", "lift.steel", u(0.5, 1.5))}
	}},
	{"screws", "board.steel", func(_ *rig.Rig, u func(float64, float64) float64) []Setting {
		return []Setting{in("mm", "board.steel", u(0.4, 1.2))}
	}},
	{"short guides", "drive.skew", func(r *rig.Rig, u func(float64, float64) float64) []Setting {
		return []Setting{bare("axis.y.rows", 1), {Key: "axis.y.rails.drive_at", Value: `["0 mm"]`}, in("mm", "axis.y.clearance", 0.1), in("mm", "axis.y.guide", max(5, 0.1*mm(r.Axis.X.Travel)/u(0.6, 2)))}
	}},
	{"few sockets", "cables.ports", func(_ *rig.Rig, u func(float64, float64) float64) []Setting {
		return []Setting{bare("controller.ports", math.Floor(u(1, 2.9)))}
	}},
	{"low camera", "camera.coverage", func(r *rig.Rig, u func(float64, float64) float64) []Setting {
		short := float64(min(r.Camera.Image[0], r.Camera.Image[1])) / float64(r.Camera.Image[0])
		need := 4 * mm(r.Board.Square) / (short * math.Tan(float64(r.Camera.HFOV)/2)) // the field on the surface alone
		return []Setting{in("mm", "camera.height", max(150, need*u(0.6, 0.95)))}
	}},
	{"narrow lens", "camera.coverage", func(r *rig.Rig, u func(float64, float64) float64) []Setting {
		if r.Camera.DFOV != 0 {
			return nil
		}
		short := float64(min(r.Camera.Image[0], r.Camera.Image[1])) / float64(r.Camera.Image[0])
		need := 2 * 180 / math.Pi * math.Atan(4*mm(r.Board.Square)/(short*mm(r.Camera.Height)))
		return []Setting{in("deg", "camera.hfov", max(20, need*u(0.7, 0.95)))}
	}},
	{"few pixels", "camera.scale", func(r *rig.Rig, u func(float64, float64) float64) []Setting {
		wide := u(14, 20) * mm(r.Camera.Height) / mm(r.Board.Square) * 2 * math.Tan(float64(r.Camera.HFOV)/2)
		if wide < 320 {
			return nil
		}
		return []Setting{{Key: "camera.image", Value: fmt.Sprintf("[%.0f, %.0f]", wide, max(240, wide*3/4))}}
	}},
	{"far focus", "camera.focus", func(_ *rig.Rig, u func(float64, float64) float64) []Setting {
		return []Setting{in("mm", "camera.focal", 8), bare("camera.stop", 1.4), in("mm", "camera.focus", u(4000, 9000))}
	}},
	{"tall king", "camera.lean", func(r *rig.Rig, u func(float64, float64) float64) []Setting {
		h := mm(r.Camera.Height) * u(0.3, 0.4) // leans by more than a square on the outermost ones
		if h > 150 {
			return nil // more than a rig file may say
		}
		return []Setting{in("mm", "pieces.king.height", h)}
	}},
	{"few bricks", "materials.walls", func(_ *rig.Rig, u func(float64, float64) float64) []Setting {
		return []Setting{{Key: "walls.material", Value: `"brick"`}, bare("walls.owned", math.Floor(u(20, 100)))}
	}},
	{"small supply", "power.current", func(r *rig.Rig, u func(float64, float64) float64) []Setting {
		return []Setting{in("A", "power.current", u(0.1, 0.5))} // less than controller and camera take
	}},
	{"motors over their voltage", "power.motors", func(r *rig.Rig, u func(float64, float64) float64) []Setting {
		if r.Axis.X.Motor.Kind == "stepper" || r.Axis.X.Motor.Voltage == 0 {
			return nil
		}
		return []Setting{in("V", "power.voltage", float64(r.Axis.X.Motor.Voltage)*u(1.5, 4)), in("A", "power.current", 30)}
	}},
	{"the other side's magnets", "play.carried", func(r *rig.Rig, _ func(float64, float64) float64) []Setting {
		other := map[string]string{"white": "black", "black": "white"}[r.Play.Side]
		return []Setting{{Key: "pieces.carried", Value: `"` + other + `"`}}
	}},
}...)

// defectBases are the texts of the rigs that defects are written into.
func defectBases(t *testing.T) []string {
	out := []string{rig.DefaultText}
	for _, name := range []string{"club", "pocket"} {
		text, err := os.ReadFile("../../examples/" + name + "/rig.toml")
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, string(text))
	}
	return out
}

// written is a rig file with values written into its text.
func written(text string, set []Setting) (*rig.Rig, error) {
	var err error
	for _, s := range set {
		if text, err = rig.Patch(text, s.Key, s.Value); err != nil {
			return nil, err
		}
	}
	return rig.Parse("rig.toml", []byte(text), rig.Machine)
}

// tally counts what became of the changes that were offered.
type tally struct {
	rigs, lines, waiting, fixes, clean, said int
}

// tried judges a rig with defects: their lines fail, or wait for one that does, and a change
// is offered; each one offered, written into the file, turns its line to pass and does to the
// others only what it says.
func (n *tally) tried(t *testing.T, text string, set []Setting, name string, lines ...string) {
	r, err := written(text, set)
	if err != nil {
		t.Errorf("%s: %v", name, err)
		return
	}
	n.rigs++
	s := newStudy(r, nil)
	was := s.judge()
	bench := s.bench(was, nil)
	for i, c := range was {
		if !slices.Contains(lines, c.ID) {
			continue
		}
		n.lines++
		if line.Waits(c) && len(lines) > 1 {
			n.waiting++
			continue
		}
		if c.Verdict != Fail {
			t.Errorf("%s: %s is %s: %s (value %g, limit %g); failing: %v", name, c.ID, c.Verdict, c.Why, c.Value, c.Limit, failing(was))
			continue
		}
		fixes := bench.Mend(i)
		if len(fixes) == 0 {
			t.Errorf("%s: nothing is offered for %s: %s", name, c.ID, c.Why)
		}
		for _, f := range fixes {
			n.offered(t, text, set, was, i, f, name)
		}
	}
}

// offered writes a change into the file and judges what it says.
func (n *tally) offered(t *testing.T, text string, set []Setting, was []Check, i int, f Fix, name string) {
	n.fixes++
	r, err := written(text, append(slices.Clone(set), f.Set...))
	if err != nil {
		t.Errorf("%s: %v: %v", name, f, err)
		return
	}
	now := Judge(r)
	if now[i].Verdict != Pass {
		t.Errorf("%s: after %v %s is %s: %s", name, f, now[i].ID, now[i].Verdict, now[i].Why)
	}
	if len(f.Breaks) == 0 {
		n.clean++
	} else {
		n.said++
	}
	for j, c := range now {
		told := slices.ContainsFunc(f.Costs, func(k line.Cost) bool { return k.ID == c.ID && k.Warns })
		switch {
		case j == i:
		case c.Verdict == Fail && was[j].Verdict != Fail && !slices.Contains(f.Breaks, c.ID):
			t.Errorf("%s: %v breaks %s and does not say so: %s", name, f, c.ID, c.Why)
		case c.Verdict == Warn && was[j].Verdict == Pass && !told && !line.Waits(c):
			t.Errorf("%s: %v has %s warn and does not say so: %s", name, f, c.ID, c.Why)
		}
	}
}

// Defects drawn by chance, one in a rig and two: the line that the defect is about fails,
// and the changes offered do what they say. The whole set is a hundred and sixty rigs; each
// run has a part of it.
func TestDrawnDefects(t *testing.T) {
	const seed = 11
	singles, doubles := 30, 12
	if os.Getenv("BOARDHAND_LONG") == "1" {
		singles, doubles = 100, 60
	}
	t.Log("seed", seed)
	bases, chance := defectBases(t), rand.New(rand.NewPCG(seed, 0))
	u := func(from, to float64) float64 { return from + (to-from)*chance.Float64() }
	draw := func(r *rig.Rig, not string) (kindOfDefect, []Setting) {
		for {
			k := kindsOfDefect[chance.IntN(len(kindsOfDefect))]
			if set := k.of(r, u); set != nil && k.line != not {
				return k, set
			}
		}
	}
	var one, two tally
	for i := range singles + doubles {
		text := bases[i%len(bases)]
		r, err := written(text, nil)
		if err != nil {
			t.Fatal(err)
		}
		a, set := draw(r, "")
		name := fmt.Sprintf("%d on rig %d: %s", i, i%len(bases), a.name)
		if i < singles {
			one.tried(t, text, set, name, a.line)
			continue
		}
		b, more := draw(r, a.line)
		for slices.ContainsFunc(more, func(m Setting) bool { return slices.ContainsFunc(set, func(s Setting) bool { return s.Key == m.Key }) }) {
			b, more = draw(r, a.line)
		}
		two.tried(t, text, append(set, more...), name+" and "+b.name, a.line, b.line)
	}
	for what, n := range map[string]tally{"one defect": one, "two defects": two} {
		t.Logf("%s: %d rigs, %d lines (%d wait for another one); %d changes offered: %d break nothing, %d say what they break",
			what, n.rigs, n.lines, n.waiting, n.fixes, n.clean, n.said)
	}
}
