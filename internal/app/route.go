// SPDX-License-Identifier: Apache-2.0

package app

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"regexp"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"boardhand/internal/carry"
	"boardhand/internal/carry/plan"
	"boardhand/internal/chess"
	"boardhand/internal/rig"
	"boardhand/internal/terminal"
	"boardhand/internal/unit"
)

type routeFlags struct {
	rig, fen, move, svg string
	back, setUp         bool
	beside              string
}

func routeCommand(o *terminal.Out) *cobra.Command {
	var f routeFlags
	c := &cobra.Command{
		Use:   "route --rig R --fen F --move M",
		Short: "Plan how the carriage carries out one move, takes it back, or sets up",
		Long: `Plans one move, of the machine's or the guest's side, with all pieces at the centres
of their squares: what is travelled, gripped, carried, released and asked.

--back plans how the move is taken back again; --setup, without a move, how the
pieces go from the position to where the next game begins. --beside says who stands
in which slot of the tray, L1 … beside the a file and R1 … beside the h file;
pieces that are nowhere are asked for. What stands there afterwards is printed in the
same form, so that the next plan can begin with it.`,
		Example: `  boardhand route --rig rig.toml --move e2e4
  boardhand route --rig tray.toml --fen "4k3/8/8/8/4p3/8/8/4K3 w - - 0 1" --setup --beside "P@L3 q@R2"`,
		Args: cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error { return route(c.Context(), o, f) },
	}
	c.Flags().StringVar(&f.rig, "rig", "", "rig file; the built-in one when not given")
	c.Flags().StringVar(&f.fen, "fen", "", "the position; the start of a game when not given")
	c.Flags().StringVar(&f.move, "move", "", "the move, like e2e4 or e7e8q or Nf3")
	c.Flags().StringVar(&f.svg, "svg", "", "file to draw the plan in")
	c.Flags().BoolVar(&f.back, "back", false, "take the move back after it was made")
	c.Flags().BoolVar(&f.setUp, "setup", false, "set the pieces up for the next game")
	c.Flags().StringVar(&f.beside, "beside", "", `pieces in the tray, like "P@L3 q@R2"`)
	c.MarkFlagsOneRequired("move", "setup")
	c.MarkFlagsMutuallyExclusive("move", "setup")
	c.MarkFlagsMutuallyExclusive("back", "setup")
	return c
}

func route(ctx context.Context, o *terminal.Out, f routeFlags) error {
	r := rig.Default()
	var err error
	if f.rig != "" {
		if r, err = rig.Load(f.rig, rig.Machine); err != nil {
			return err
		}
	}
	pos, err := position(f.fen)
	if err != nil {
		return err
	}
	p, err := carry.NewPlanner(r)
	if err != nil {
		return err
	}
	job, err := routed(ctx, p, r, pos, f)
	if err != nil {
		return err
	}
	if f.svg != "" {
		if err := os.WriteFile(f.svg, p.SVG(job.scene, job.plan), 0o644); err != nil {
			return fmt.Errorf("cannot write the drawing: %w", err)
		}
	}
	return job.print(o, p, r)
}

// print prints what was planned.
func (j job) print(o *terminal.Out, p *carry.Planner, r *rig.Rig) error {
	tray := trayText(r, p.After(j.scene, j.plan))
	if o.JSON {
		text, err := plan.JSON(j.plan, plan.Told{Kinds: r.Pieces.Kinds(), Places: r.Beside, FEN: j.after.FEN(), Tray: tray})
		if err != nil {
			return err
		}
		o.Printf("%s\n", bytes.TrimSpace(text))
		return nil
	}
	printPlan(o, r, j)
	if tray != "" {
		o.Printf("In the tray then: %s\n", tray)
	}
	if j.bound > 0 && j.plan.Time > 0 {
		o.Printf("No plan of the carriage can take less than %.1f s.\n", j.bound)
	}
	return nil
}

// job is what was planned.
type job struct {
	name  string
	scene plan.Scene
	plan  plan.Plan
	after chess.Position
	bound float64 // s, of a set-up: no plan of the carriage is shorter
}

// routed plans what the flags ask for.
func routed(ctx context.Context, p *carry.Planner, r *rig.Rig, pos chess.Position, f routeFlags) (job, error) {
	tray, err := inTray(p, r, f.beside)
	if err != nil {
		return job{}, err
	}
	j := job{name: "set-up", scene: centred(p, pos)}
	j.scene.Pieces = append(j.scene.Pieces, tray...)
	if f.setUp {
		j.after = chess.Start()
		j.plan, j.bound, err = p.SetUp(ctx, j.scene)
		return j, err
	}
	m, err := parseMove(pos, f.move)
	if err != nil {
		return j, fmt.Errorf("--move: %w", err)
	}
	j.name = pos.SAN(m)
	if !f.back {
		j.after = pos.After(m)
		j.plan, err = p.Move(ctx, j.scene, pos, m)
		return j, err
	}
	j.name, j.after = j.name+" taken back", pos
	j.scene = centred(p, pos.After(m))
	j.scene.Pieces = append(j.scene.Pieces, tray...)
	j.plan, err = p.TakeBack(ctx, j.scene, pos, m)
	return j, err
}

// inTray reads who stands in which slot.
func inTray(p *carry.Planner, r *rig.Rig, text string) (out []plan.Piece, err error) {
	slots := r.Slots()
	used := map[int]bool{}
	for _, w := range strings.Fields(text) {
		letter, name, _ := strings.Cut(w, "@")
		piece, err := chess.PieceLettered(letter)
		if err != nil {
			return nil, fmt.Errorf("--beside: %q should look like P@L3: %w", w, err)
		}
		if piece.Kind() == chess.King {
			return nil, fmt.Errorf("--beside: %q: a king is never captured; it stands on the board", w)
		}
		k := 0
		for k < len(slots) && rig.SlotName(k, len(slots)) != name {
			k++
		}
		if k == len(slots) {
			return nil, fmt.Errorf("--beside: this rig has no slot %q; %d slots beside the a file begin with L1, as many beside the h file with R1", name, len(slots)/2)
		}
		if used[k] {
			return nil, fmt.Errorf("--beside: two pieces cannot stand in slot %s", name)
		}
		used[k] = true
		out = append(out, p.Stand(piece, chess.NoSquare, slots[k]))
	}
	return out, nil
}

// centred puts every piece in the middle of its square.
func centred(p *carry.Planner, pos chess.Position) plan.Scene {
	var s plan.Scene
	for q := chess.Square(0); q < chess.NoSquare; q++ {
		if m := pos.At(q); m != chess.NoPiece {
			s.Pieces = append(s.Pieces, p.Stand(m, q, p.Centre(q)))
		}
	}
	return s
}

// trayText is what stands in the slots of the tray, as --beside takes it.
func trayText(r *rig.Rig, s plan.Scene) string {
	var out []string
	for _, m := range s.Pieces {
		if name := r.Beside(m.At); m.Square >= chess.NoSquare && name != "beside" {
			out = append(out, fmt.Sprintf("%c@%s", m.Piece.Letter(), name))
		}
	}
	slices.Sort(out)
	return strings.Join(out, " ")
}

// twoSquares is a move as UCI writes it.
var twoSquares = regexp.MustCompile("^[a-h][1-8][a-h][1-8][a-z]?$")

// parseMove reads UCI or SAN text.
func parseMove(pos chess.Position, text string) (chess.Move, error) {
	if twoSquares.MatchString(text) {
		return pos.ParseUCI(text)
	}
	return pos.ParseSAN(text)
}

func printPlan(o *terminal.Out, r *rig.Rig, j job) {
	p := j.plan
	o.Printf("%s in %s, %.1f s", j.name, unit.Count(len(p.Steps), "step"), float64(p.Time))
	if n := p.Asks(); n > 0 {
		o.Printf(", with %s to a person", unit.Count(n, "request"))
	}
	o.Printf("\n")
	for i, s := range p.Steps {
		o.Printf("%3d  %-8s", i+1, s.Do)
		switch {
		case s.Do == plan.Ask:
			o.Printf(" %s", s.Text)
		case len(s.Path) > 0:
			a, b := s.Path[0], s.Path[len(s.Path)-1]
			o.Printf(" (%.1f, %.1f) to (%.1f, %.1f) mm, %.1f s", a.X*1e3, a.Y*1e3, b.X*1e3, b.Y*1e3, float64(s.Time))
			if s.Do == plan.Carry {
				from, to := p.Ends(i, r.Beside)
				o.Printf("  %v %s to %s %s", s.Piece, from, to, s.Text)
			}
		default:
			o.Printf(" %v", s.Piece)
		}
		o.Printf("\n")
	}
	if p.Doubt != "" {
		o.Printf("The plan without a person was refused by the check: %s\n", p.Doubt)
	}
}
