package app

import (
	"bytes"
	"context"
	"fmt"
	"os"

	"github.com/spf13/cobra"

	"boardhand/internal/carry"
	"boardhand/internal/chess"
	"boardhand/internal/rig"
)

type routeFlags struct{ rig, fen, move, svg string }

func routeCommand(o *out) *cobra.Command {
	var f routeFlags
	c := &cobra.Command{
		Use:   "route --rig R --fen F --move M",
		Short: "Plan how the carriage carries out one move",
		Long: `Plans one move, of the machine's or the guest's side, with all men at the centres
of their squares: what is travelled, gripped, carried, released and asked.`,
		Args: cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error { return route(c.Context(), o, f) },
	}
	c.Flags().StringVar(&f.rig, "rig", "", "rig file; the built-in one when not given")
	c.Flags().StringVar(&f.fen, "fen", "", "the position; the start of a game when not given")
	c.Flags().StringVar(&f.move, "move", "", "the move, like e2e4 or e7e8q or Nf3")
	c.Flags().StringVar(&f.svg, "svg", "", "file to draw the plan in")
	_ = c.MarkFlagRequired("move")
	return c
}

func route(ctx context.Context, o *out, f routeFlags) error {
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
	m, err := parseMove(pos, f.move)
	if err != nil {
		return fmt.Errorf("--move: %w", err)
	}
	limits, err := carry.LimitsOf(r)
	if err != nil {
		return err
	}
	p, err := carry.NewPlanner(r, limits)
	if err != nil {
		return err
	}
	scene := centred(p, pos)
	plan, err := p.Move(ctx, scene, pos, m)
	if err != nil {
		return err
	}
	if f.svg != "" {
		if err := os.WriteFile(f.svg, p.SVG(scene, plan), 0o644); err != nil {
			return fmt.Errorf("cannot write the drawing: %w", err)
		}
	}
	if o.json {
		text, err := carry.JSON(plan)
		if err != nil {
			return err
		}
		o.printf("%s\n", bytes.TrimSpace(text))
		return nil
	}
	printPlan(o, pos.SAN(m), plan)
	return nil
}

// centred puts every man in the middle of his square.
func centred(p *carry.Planner, pos chess.Position) carry.Scene {
	var s carry.Scene
	for q := chess.Square(0); q < chess.NoSquare; q++ {
		if m := pos.At(q); m != chess.NoPiece {
			s.Men = append(s.Men, p.Stand(m, q, p.Centre(q)))
		}
	}
	return s
}

// parseMove reads UCI or SAN text.
func parseMove(pos chess.Position, text string) (chess.Move, error) {
	m, err := pos.ParseUCI(text)
	if err == nil {
		return m, nil
	}
	if s, serr := pos.ParseSAN(text); serr == nil {
		return s, nil
	}
	return 0, err
}

func printPlan(o *out, san string, p carry.Plan) {
	o.printf("%s in %d steps, %.1f s", san, len(p.Steps), float64(p.Time))
	if n := p.Asks(); n > 0 {
		o.printf(", with %d request(s) to a person", n)
	}
	o.printf("\n")
	for i, s := range p.Steps {
		o.printf("%3d  %-8s", i+1, s.Do)
		switch {
		case s.Do == carry.Ask:
			o.printf(" %s", s.Text)
		case len(s.Path) > 0:
			a, b := s.Path[0], s.Path[len(s.Path)-1]
			o.printf(" (%.1f, %.1f) to (%.1f, %.1f) mm, %.1f s", a.X*1e3, a.Y*1e3, b.X*1e3, b.Y*1e3, float64(s.Time))
			if s.Do == carry.Carry {
				o.printf("  %v %v to %v %s", s.Piece, s.From, s.To, s.Text)
			}
		default:
			o.printf(" %v", s.Piece)
		}
		o.printf("\n")
	}
	if p.Doubt != "" {
		o.printf("The plan without a person was refused by the check: %s\n", p.Doubt)
	}
}
