// SPDX-License-Identifier: Apache-2.0

package app

import (
	"cmp"
	"fmt"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"
	"github.com/spf13/cobra/doc"

	"boardhand/internal/draft"
	"boardhand/internal/rig"
	"boardhand/internal/terminal"
)

func newCommand(o *terminal.Out) *cobra.Command {
	var wish draft.Wish
	var square string
	c := &cobra.Command{
		Use:   "new DIR",
		Short: "Write a commented rig file to start from",
		Long: `Writes a commented rig file that passes every check. With --square the machine
has that size (25 to 60 mm): pieces in proportion, and magnets, sheet, drop,
travel, box and camera height worked out for it.`,
		Args: cobra.ExactArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			text := rig.DefaultText
			if square != "" || wish != (draft.Wish{}) {
				err := wish.Square.UnmarshalText([]byte(cmp.Or(square, "40 mm")))
				if err == nil {
					text, err = draft.Text(c.Context(), wish)
				}
				if err != nil {
					return fmt.Errorf("new: %w", err)
				}
			}
			path, err := writeRig(args[0], text)
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
	c.Flags().StringVar(&square, "square", "", "side of a square, like 28mm")
	c.Flags().StringVar(&wish.Carried, "carried", "", "whose pieces the machine moves: black, white or both")
	c.Flags().StringVar(&wish.Removal, "removal", "", "how captured pieces leave the board: hand or tray")
	return c
}

// writeRig writes the text of a rig file into dir; it never overwrites one.
func writeRig(dir, text string) (string, error) {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return "", fmt.Errorf("cannot make the folder: %w", err)
	}
	path := filepath.Join(dir, "rig.toml")
	return path, writeNew(path, text)
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
