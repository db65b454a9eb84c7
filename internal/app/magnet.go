// SPDX-License-Identifier: Apache-2.0

package app

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"boardhand/internal/magnet"
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
		return o.Object(map[string]float64{"axial_N": f.Axial, "lateral_N": f.Lateral})
	}
	o.Printf("at a gap of %v, axes %v apart:\n", at[0], at[1])
	o.Printf("  axial    %8.4f N   (positive: they attract)\n", f.Axial)
	o.Printf("  lateral  %8.4f N   (positive: back to the axis)\n", f.Lateral)
	if lo.graded || up.graded {
		o.Printf("  by grade: axial %.4f to %.4f N, lateral %.4f to %.4f N\n", weak.Axial, strong.Axial, weak.Lateral, strong.Lateral)
	}
	o.Printf("Strong magnets pinch and shatter, and stop pacemakers; small ones are deadly when swallowed.\nKeep them captive, away from children and 15 cm from implants; follow local rules.\n")
	return nil
}
