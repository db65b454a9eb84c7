// SPDX-License-Identifier: Apache-2.0

package app

import (
	"context"
	"errors"
	"fmt"
	"image"
	"io"
	"math"
	"os"
	"time"

	"github.com/spf13/cobra"

	"boardhand/internal/camera"
	"boardhand/internal/measured"
	"boardhand/internal/optics"
	"boardhand/internal/rig"
	"boardhand/internal/sight/locate"
	"boardhand/internal/terminal"
	"boardhand/internal/unit"
)

// lensFlags says where the pictures are and what they show.
type lensFlags struct {
	frames string
	inner  string
	square unit.Length
	rig    string // beside which the lens is kept; "": nowhere
}

func lensCommand(o *terminal.Out) *cobra.Command {
	f := lensFlags{square: unit.MM(25)}
	c := &cobra.Command{
		Use:   "lens --frames DIR --inner 9x6 --square 25mm",
		Short: "Measure a camera's lens from pictures of a printed checkerboard",
		Long: `Measures a camera's lens from five or more pictures of a flat, printed
checkerboard, each tilted another way by 20 to 40 degrees and seen whole. The
camera must have the size, zoom and focus of the game. What it prints for hfov
goes into [camera] of the rig file; --rig keeps all of it, with its uncertainty, in
bringup.toml beside that file, where bringup finds it.`,
		Example: `  boardhand lens --frames calibration --inner 9x6 --square 25mm
  boardhand lens --frames calibration --rig mine/rig.toml`,
		Args: cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error { return measureLens(c.Context(), o, f) },
	}
	c.Flags().StringVar(&f.frames, "frames", "", "folder of the pictures")
	c.Flags().StringVar(&f.inner, "inner", "9x6", "inner corners of the checkerboard, across and down")
	c.Flags().TextVar(&f.square, "square", f.square, "side of a square of the checkerboard")
	c.Flags().StringVar(&f.rig, "rig", "", "keep the lens for bringup of this rig file's machine")
	_ = c.MarkFlagRequired("frames")
	return c
}

func measureLens(ctx context.Context, o *terminal.Out, f lensFlags) error {
	t := locate.Target{Square: float64(f.square)}
	if n, err := fmt.Sscanf(f.inner, "%dx%d", &t.Columns, &t.Rows); err != nil || n != 2 || min(t.Columns, t.Rows) < 3 {
		return fmt.Errorf("--inner: %q should be like 9x6: the corners where four squares meet, across and down, 3 or more", f.inner)
	}
	if !(f.square > 0) {
		return fmt.Errorf("--square must be above 0 mm; got %v", f.square)
	}
	pictures, names, err := allPictures(ctx, f.frames)
	if err != nil {
		return err
	}
	c, used, err := locate.CalibrateLens(pictures, t)
	if err != nil {
		return fmt.Errorf("%s: %w", f.frames, err)
	}
	size := pictures[0].Bounds().Size()
	if f.rig != "" {
		if err := keepLens(f.rig, c, [2]int{size.X, size.Y}); err != nil {
			return err
		}
	}
	return printLens(o, c, lensPictures{names: names, used: used, width: size.X})
}

// keepLens keeps a lens for the bring-up of a rig's machine, which then finds anew where the
// camera hangs.
func keepLens(path string, c optics.Calibration, size [2]int) error {
	r, err := rig.Load(path, rig.Machine)
	if err != nil {
		return err
	}
	if want := r.Camera.Image; want != size {
		return fmt.Errorf("the pictures are %d × %d px, camera.image says %d × %d: take them with the size of the game", size[0], size[1], want[0], want[1])
	}
	f, err := measured.Load(path)
	if err != nil {
		return err
	}
	f.Lens, f.Camera = measured.LensOf(c, size, time.Now().UTC().Format(time.RFC3339)), nil
	return f.Save(path)
}

// allPictures reads a folder; a picture that cannot be read ends it.
func allPictures(ctx context.Context, dir string) (pictures []image.Image, names []string, err error) {
	folder, err := camera.OpenFolder(dir)
	if err != nil {
		return nil, nil, err
	}
	for {
		p, err := folder.Look(ctx)
		if errors.Is(err, io.EOF) {
			return pictures, folder.Names(), nil
		}
		if err != nil {
			return nil, nil, fmt.Errorf("%s%c%w", dir, os.PathSeparator, err)
		}
		pictures = append(pictures, p.Image)
	}
}

// lensPictures are the pictures that a lens was measured from.
type lensPictures struct {
	names []string
	used  []int
	width int // px
}

// leftOut names the pictures that do not show the checkerboard whole.
func (p lensPictures) leftOut() []string {
	isUsed := map[int]bool{}
	for _, i := range p.used {
		isUsed[i] = true
	}
	out := []string{}
	for i, n := range p.names {
		if !isUsed[i] {
			out = append(out, n)
		}
	}
	return out
}

// lensLine is what lens prints for programs.
type lensLine struct {
	HFOV     float64    `json:"hfov_deg"`
	HFOVOff  float64    `json:"hfov_sigma_deg"`
	FocalPX  float64    `json:"focal_px"`
	CentrePX [2]float64 `json:"centre_px"`
	K1       float64    `json:"k1"`
	K2       float64    `json:"k2"`
	RMS      float64    `json:"rms_px"`
	Pictures int        `json:"pictures"`
	LeftOut  []string   `json:"left_out"`
}

func printLens(o *terminal.Out, c optics.Calibration, p lensPictures) error {
	half := float64(p.width) / 2
	l := lensLine{HFOV: 2 * math.Atan(half/c.Lens.Fx) * 180 / math.Pi, FocalPX: c.Lens.Fx,
		CentrePX: [2]float64{c.Lens.Cx, c.Lens.Cy}, K1: c.Lens.K1, K2: c.Lens.K2, RMS: c.RMS,
		Pictures: len(p.used), LeftOut: p.leftOut()}
	// The slope of 2 arctan(w/2f) over f.
	l.HFOVOff = 2 * half / (c.Lens.Fx*c.Lens.Fx + half*half) * c.Sigma.Fx * 180 / math.Pi
	if o.JSON {
		return o.Object(l)
	}
	o.Printf("hfov = \"%.2f deg\"   # ± %.2f deg, from %d pictures\n", l.HFOV, l.HFOVOff, l.Pictures)
	o.Printf("focal length %.1f px, centre (%.1f, %.1f) px, distortion k1 %.4f, k2 %.4f\n", l.FocalPX, l.CentrePX[0], l.CentrePX[1], l.K1, l.K2)
	o.Printf("corners are off by %.2f px (root mean square)\n", l.RMS)
	for _, n := range l.LeftOut {
		o.Printf("%s does not show the checkerboard whole and was left out\n", n)
	}
	return nil
}
