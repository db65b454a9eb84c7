// SPDX-License-Identifier: Apache-2.0

// Command lettering draws the pages' own letters with a pen along the strokes
// of strokes.go and packs them into the two TrueType fonts that internal/web
// serves. The same strokes give the same bytes.
package main

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
)

// pens are the line widths of the two weights.
var pens = map[string]float64{"lettering.ttf": 1.12, "lettering-heavy.ttf": 1.6}

func main() {
	out := flag.String("o", "internal/web/letters", "folder for the fonts")
	flag.Parse()
	if err := run(*out); err != nil {
		fmt.Fprintln(os.Stderr, "lettering:", err)
		os.Exit(1)
	}
}

func run(out string) error {
	all, err := fonts()
	if err != nil {
		return err
	}
	for name, font := range all {
		if err := os.WriteFile(filepath.Join(out, name), font, 0o644); err != nil {
			return err
		}
	}
	return nil
}

// fonts are the font files by name.
func fonts() (map[string][]byte, error) {
	out := map[string][]byte{}
	for name, pen := range pens {
		l, err := letters(pen)
		if err != nil {
			return nil, err
		}
		out[name] = trueType(l, pen)
	}
	return out, nil
}
