// SPDX-License-Identifier: Apache-2.0

package app

import (
	"fmt"
	"math"
	"os"
	"strings"

	"github.com/spf13/cobra"

	"boardhand/internal/fitting"
	"boardhand/internal/magnet"
	"boardhand/internal/rig"
	"boardhand/internal/terminal"
	"boardhand/internal/unit"
)

func magnetCommand(o *terminal.Out) *cobra.Command {
	var lower, upper string
	var gap, offset unit.Length
	c := &cobra.Command{
		Use:   "magnet --lower D×L,GRADE --upper D×L,GRADE --gap G --offset R",
		Short: "Forces between one pair of magnets",
		Long: `Forces between two upright, axially magnetised discs, the lower one below the
upper one. Attraction and the pull back to the common axis are positive.
Real pairs differ from the formula by 10 to 15 percent.`,
		Example: `  boardhand magnet --lower 10mm×5mm,N42 --upper 6mm×2mm,N42 --gap 4.9mm --offset 5mm
  boardhand magnet --lower 10x5mm,1.29T --upper 10mmx5mm,1.29T --gap 4mm`,
		Args: cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error {
			lo, err := parseMagnet("--lower", lower)
			if err != nil {
				return err
			}
			up, err := parseMagnet("--upper", upper)
			if err != nil {
				return err
			}
			return printMagnet(o, lo, up, [2]unit.Length{gap, offset})
		},
	}
	c.Flags().StringVar(&lower, "lower", "", "diameter × thickness and grade or remanence of the drive magnet")
	c.Flags().StringVar(&upper, "upper", "", "the same of the magnet in the base")
	c.Flags().TextVar(&gap, "gap", unit.MM(5), "distance between the facing faces")
	c.Flags().TextVar(&offset, "offset", unit.Length(0), "distance between the axes")
	_ = c.MarkFlagRequired("lower")
	_ = c.MarkFlagRequired("upper")
	return c
}

func fitCommand(o *terminal.Out) *cobra.Command {
	var pulls, bases, tilts, slips, presses []string
	var out string
	c := &cobra.Command{
		Use:   "fit RIG",
		Short: "Turn readings of a kitchen scale and a tilted board into numbers of the rig file",
		Long: `Fits remanence, friction and spring to what was measured, each with its standard
deviation, and says what the rig file should have. Readings may be repeated.
Hold magnets over a spacer and with eye protection; keep fingers from between them.`,
		Example: `  boardhand fit rig.toml --pull "62 g at 5 mm" --pull "110 g at 3.5 mm" --tilt "16 deg" --tilt "17 deg"
  boardhand fit rig.toml --press "52 g at 0 mm" --press "83 g at 3 mm" --slip "king at 1.2 mm" -o fitted.toml`,
		Args: cobra.ExactArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			r, err := rig.Load(args[0], rig.Machine)
			if err != nil {
				return err
			}
			in, err := fitting.Read(r, pulls, bases, tilts, slips, presses)
			if err != nil {
				return err
			}
			f, err := fitting.Of(r, in)
			if err != nil {
				return fmt.Errorf("fit: %w", err)
			}
			if o.JSON {
				err = o.Object(struct {
					fitting.Fit
					Settings []fitting.Setting `json:"settings"`
				}{f, f.Settings(r)})
			} else {
				o.Printf("%s", f.Text(r))
			}
			if err != nil || out == "" {
				return err
			}
			return writeFitted(o, r, f, out)
		},
	}
	c.Flags().StringArrayVar(&pulls, "pull", nil, "pull of the drive magnet on one of a base, face to face: force (or grams of a scale) at gap")
	c.Flags().StringArrayVar(&bases, "pull-bases", nil, "the same of two magnets of bases")
	c.Flags().StringArrayVar(&tilts, "tilt", nil, "angle of the board at which a piece slides")
	c.Flags().StringArrayVar(&slips, "slip", nil, "piece at the distance from the raised magnet's axis at which it begins to move")
	c.Flags().StringArrayVar(&presses, "press", nil, "force with which the lift's spring presses back, at how far it is pressed beyond where it stands raised")
	c.Flags().StringVarP(&out, "output", "o", "", "write the rig file with these numbers, a new file")
	return c
}

// writeFitted writes a rig's file anew with what was fitted, to another place.
func writeFitted(o *terminal.Out, r *rig.Rig, f fitting.Fit, path string) error {
	was, err := os.ReadFile(r.Path)
	if err != nil {
		return err
	}
	text, err := f.Write(string(was), r)
	if err != nil {
		return err
	}
	if err := writeNew(path, text); err != nil {
		return fmt.Errorf("-o: %w", err)
	}
	_, _ = fmt.Fprintf(o.Err, "wrote %s\n", path)
	return nil
}

// span is a magnet with the least and the most remanence of its grade.
type span struct {
	lo, hi, mid magnet.Cylinder
	graded      bool
}

// parseMagnet reads "10mm×5mm,N42" or "10mm×5mm,1.29T".
func parseMagnet(flag, text string) (span, error) {
	size, grade, ok := strings.Cut(text, ",")
	d, l, ok2 := strings.Cut(strings.NewReplacer("x", "×", "X", "×", "*", "×").Replace(size), "×")
	if !ok || !ok2 {
		return span{}, fmt.Errorf("%s: %q should look like 10mm×5mm,N42 or 10mm×5mm,1.29T", flag, text)
	}
	if strings.TrimRight(d, "0123456789.") == "" && strings.HasSuffix(strings.TrimSpace(l), "mm") {
		d += "mm" // "10×5mm"
	}
	var m magnet.Cylinder
	if err := m.Diameter.UnmarshalText([]byte(d)); err != nil {
		return span{}, fmt.Errorf("%s: diameter: %w", flag, err)
	}
	if err := m.Thickness.UnmarshalText([]byte(l)); err != nil {
		return span{}, fmt.Errorf("%s: thickness: %w", flag, err)
	}
	lo, hi, err := magnet.Grade(strings.TrimSpace(grade))
	if err != nil {
		return span{}, fmt.Errorf("%s: %w", flag, err)
	}
	s := span{lo: m, hi: m, mid: m, graded: hi > lo}
	s.lo.Br, s.hi.Br, s.mid.Br = lo, hi, (lo+hi)/2
	return s, nil
}

func printMagnet(o *terminal.Out, lo, up span, at [2]unit.Length) error {
	f, err := magnet.Force(lo.mid, up.mid, at[0], at[1])
	if err != nil {
		return err
	}
	weak, err := magnet.Force(lo.lo, up.lo, at[0], at[1])
	if err != nil {
		return err
	}
	strong, err := magnet.Force(lo.hi, up.hi, at[0], at[1])
	if err != nil {
		return err
	}
	if o.JSON {
		return o.Object(map[string]float64{"axial_N": f.Axial + 0, "lateral_N": f.Lateral + 0}) // −0 + 0 is 0
	}
	o.Printf("at a gap of %v, axes %v apart:\n", at[0], at[1])
	printed := func(newtons float64) float64 { return math.Round(newtons*1e4)/1e4 + 0 } // no "-0.0000"
	o.Printf("  axial    %8.4f N   (positive: they attract)\n", printed(f.Axial))
	o.Printf("  lateral  %8.4f N   (positive: back to the axis)\n", printed(f.Lateral))
	if lo.graded || up.graded {
		o.Printf("  by grade: axial %.4f to %.4f N, lateral %.4f to %.4f N\n",
			printed(weak.Axial), printed(strong.Axial), printed(weak.Lateral), printed(strong.Lateral))
	}
	o.Printf("Strong magnets pinch and shatter, and stop pacemakers; small ones are deadly when swallowed.\nKeep them captive, away from children and 15 cm from implants; follow local rules.\n")
	return nil
}
