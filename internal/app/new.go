// SPDX-License-Identifier: Apache-2.0

package app

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"
	"github.com/spf13/cobra/doc"

	"boardhand/internal/rig"
	"boardhand/internal/terminal"
)

func newCommand(o *terminal.Out) *cobra.Command {
	return &cobra.Command{
		Use:   "new DIR",
		Short: "Write a commented rig file to start from",
		Args:  cobra.ExactArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			path, err := writeRig(args[0])
			if err != nil {
				return err
			}
			if o.JSON {
				return o.Object(map[string]string{"rig": path})
			}
			o.Printf("wrote %s\nNow measure your parts, change the numbers, and see what holds:\n\n  boardhand assess %s\n  boardhand play %s\n", path, path, path)
			return nil
		},
	}
}

// writeRig writes the commented rig file into dir; it never overwrites one.
func writeRig(dir string) (string, error) {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return "", fmt.Errorf("cannot make the folder: %w", err)
	}
	path := filepath.Join(dir, "rig.toml")
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if errors.Is(err, os.ErrExist) {
		return "", fmt.Errorf("%s is there already; give another folder, or move it away first", path)
	}
	if err != nil {
		return "", fmt.Errorf("cannot write the rig file: %w", err)
	}
	if _, err := f.WriteString(rig.DefaultText); err != nil {
		_ = f.Close()
		_ = os.Remove(path)
		return "", fmt.Errorf("cannot write the rig file: %w", err)
	}
	return path, f.Close()
}

func manualCommand(o *terminal.Out) *cobra.Command {
	return &cobra.Command{
		Use:    "man DIR",
		Short:  "Write the manual pages",
		Args:   cobra.ExactArgs(1),
		Hidden: true,
		RunE: func(c *cobra.Command, args []string) error {
			if err := os.MkdirAll(args[0], 0o755); err != nil {
				return err
			}
			return doc.GenManTree(c.Root(), &doc.GenManHeader{Title: "BOARDHAND", Section: "1"}, args[0])
		},
	}
}
