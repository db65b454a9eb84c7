// SPDX-License-Identifier: Apache-2.0

// Command examples writes anew what the example builds come with beside their rig and stock
// files: the report, the sheets and a game rehearsed on the twin. The same rig gives the same
// bytes: sheets carry no date and no version.
//
//	examples DIR    DIR holds the folders of the examples
package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"

	"boardhand/internal/app"
	"boardhand/internal/assess"
	"boardhand/internal/assess/paper"
	"boardhand/internal/materials"
	"boardhand/internal/propose"
	"boardhand/internal/rig"
	"boardhand/internal/sheets"
)

// The rehearsed game: seed and length were chosen so that it is short and has captures by both
// sides; doubled, the pictures take twice the room.
const seed, plies = "1", "8"

// small is the camera of the recorded game: a quarter of the pixels, so that its pictures are
// few and small.
const small = "image = [640, 360]"

var image = regexp.MustCompile(`(?m)^image = .*$`)

func main() {
	if len(os.Args) != 2 {
		fmt.Fprintln(os.Stderr, "usage: examples DIR")
		os.Exit(2)
	}
	found, err := filepath.Glob(filepath.Join(os.Args[1], "*", "rig.toml"))
	if err == nil && len(found) == 0 {
		err = fmt.Errorf("%s has no folder with a rig.toml", os.Args[1])
	}
	for _, path := range found {
		if err == nil {
			err = write(filepath.Dir(path), filepath.Dir(path))
		}
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "examples:", err)
		os.Exit(1)
	}
}

// write makes what belongs to the example in a folder, into another one or the same.
func write(from, to string) error {
	name := "examples/" + filepath.Base(from) + "/"
	text, err := os.ReadFile(filepath.Join(from, "rig.toml"))
	if err != nil {
		return err
	}
	r, err := rig.Parse(name+"rig.toml", text, rig.Machine)
	if err != nil {
		return err
	}
	stock, err := propose.LoadStock(filepath.Join(from, "stock.toml"))
	if err != nil {
		return err
	}
	rep := assess.ReportOn(r)
	if rep.Verdict == assess.Fail {
		return fmt.Errorf("%s fails its checks: boardhand assess tells which", r.Path)
	}
	var report bytes.Buffer
	if err := paper.HTML(&report, r, rep, paper.Made{}); err != nil {
		return err
	}
	order := sheets.Order{Rig: r, Report: rep, Parts: materials.Of(r, stock), Paper: sheets.Papers[0], Maker: "boardhand"}
	all, err := sheets.Draw(order)
	if err != nil {
		return err
	}
	files, err := sheets.Files(order, all)
	if err != nil {
		return err
	}
	if err := replace(to, "sheets", files); err != nil {
		return err
	}
	if err := os.WriteFile(filepath.Join(to, "report.html"), report.Bytes(), 0o644); err != nil {
		return err
	}
	return game(r, text, to)
}

// replace writes files into a folder in which nothing else stays.
func replace(to, name string, files []sheets.File) error {
	dir := filepath.Join(to, name)
	if err := os.RemoveAll(dir); err != nil {
		return err
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	for _, f := range files {
		if err := os.WriteFile(filepath.Join(dir, f.Name), f.Data, 0o644); err != nil {
			return err
		}
	}
	return nil
}

// game rehearses one by the command of that name, through the driver that the rig's controller
// takes, and keeps it as the folder "game".
func game(r *rig.Rig, text []byte, to string) error {
	dir, err := os.MkdirTemp("", "examples")
	if err != nil {
		return err
	}
	defer func() { _ = os.RemoveAll(dir) }() // a temporary folder
	path, kept := filepath.Join(dir, "rig.toml"), filepath.Join(dir, "kept")
	if err := os.WriteFile(path, image.ReplaceAll(text, []byte(small)), 0o644); err != nil {
		return err
	}
	var said, errs bytes.Buffer
	code := app.Main([]string{"rehearse", path, "--through", r.Controller.Kind, "--games", "1", "--plies", plies, "--seed", seed, "--keep", kept}, &said, &errs)
	if code != 0 {
		return fmt.Errorf("the rehearsal of %s ended with %d: %s%s", r.Path, code, said.String(), errs.String())
	}
	found, err := os.ReadDir(filepath.Join(kept, "game_001"))
	if err != nil {
		return err
	}
	var files []sheets.File
	for _, f := range found {
		data, err := os.ReadFile(filepath.Join(kept, "game_001", f.Name()))
		if err != nil {
			return err
		}
		if strings.HasSuffix(f.Name(), ".toml") {
			data = append([]byte("# As ../rig.toml, with the camera at a quarter of its pixels.\n#\n"), data...)
		}
		files = append(files, sheets.File{Name: f.Name(), Data: data})
	}
	return replace(to, "game", files)
}
