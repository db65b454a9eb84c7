// SPDX-License-Identifier: Apache-2.0

package app

import (
	"context"
	"fmt"
	"image"
	"image/png"
	"os"

	"github.com/spf13/cobra"

	"boardhand/internal/camera"
	"boardhand/internal/cameracheck"
	"boardhand/internal/chess"
	"boardhand/internal/rig"
	"boardhand/internal/session"
	"boardhand/internal/terminal"
	"boardhand/internal/twin"
)

type cameraFlags struct {
	pictures int
	keep     string
}

func cameraCommand(o *terminal.Out) *cobra.Command {
	var f cameraFlags
	c := &cobra.Command{
		Use:   "camera RIG",
		Short: "See what the camera sees of the board, and what to change",
		Long: `Takes some pictures with the camera that the rig file names (camera.source) and says
what they are worth: size and rate, where the board lies, how sharp and how bright each
corner of it is, what is too bright or too dark, and what to change. Clear hands away;
pieces may stand. Run it again after each change.`,
		Example: `  boardhand camera rig.toml
  boardhand camera rig.toml --picture seen.png`,
		Args: cobra.ExactArgs(1),
		RunE: func(c *cobra.Command, args []string) error { return checkCamera(c.Context(), o, f, args[0]) },
	}
	c.Flags().IntVar(&f.pictures, "pictures", 10, "how many pictures to take")
	c.Flags().StringVar(&f.keep, "picture", "", "PNG file to write the last picture to, with the squares drawn in")
	return c
}

func checkCamera(ctx context.Context, o *terminal.Out, f cameraFlags, path string) error {
	if f.pictures < 1 || f.pictures > 1000 {
		return fmt.Errorf("--pictures must be 1 to 1000; got %d", f.pictures)
	}
	r, err := rig.Load(path, rig.Watching)
	if err != nil {
		return err
	}
	if err := session.TakeMeasured(o, r, 1); err != nil {
		return err
	}
	eye, end, err := openEye(ctx, r, path)
	if err != nil {
		return err
	}
	defer end()
	res, err := cameracheck.Run(ctx, r, eye, f.pictures)
	if err != nil {
		return fmt.Errorf("%s: %w", r.Camera.Source, err)
	}
	if f.keep != "" {
		if err := keepPicture(f.keep, res.Picture()); err != nil {
			return err
		}
	}
	return res.Print(o)
}

// openEye opens the camera of a rig, the twin's too.
func openEye(ctx context.Context, r *rig.Rig, path string) (cameracheck.Eye, func(), error) {
	if r.Camera.Source != "twin" {
		s, err := camera.Open(ctx, r.Camera.Source, r.Camera.Image)
		if err != nil {
			return nil, nil, err
		}
		return s, s.Close, nil
	}
	whole, err := rig.Load(path, rig.Machine)
	if err != nil {
		return nil, nil, err
	}
	b, err := session.SetUp(whole, chess.Start(), twin.Options{Seed: 1})
	if err != nil {
		return nil, nil, err
	}
	return b.World.Camera(), func() {}, nil
}

func keepPicture(path string, img image.Image) error {
	f, err := os.Create(path)
	if err != nil {
		return fmt.Errorf("cannot keep the picture: %w", err)
	}
	if err := png.Encode(f, img); err != nil {
		_ = f.Close() // the first error is the one to tell
		return fmt.Errorf("cannot keep the picture: %w", err)
	}
	return f.Close()
}
