// SPDX-License-Identifier: Apache-2.0

package main

import (
	"bytes"
	"encoding/json"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"boardhand/internal/app"
)

const root = "../../examples"

// The example builds, as their folders are called.
var builds = []string{"club", "pocket"}

// contents are the files below a folder, by their paths from there.
func contents(t *testing.T, dir string) map[string][]byte {
	t.Helper()
	out := map[string][]byte{}
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		name, err := filepath.Rel(dir, path)
		if err != nil {
			return err
		}
		out[name], err = os.ReadFile(path)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// What the examples come with is what the program makes of their rigs today, byte for byte.
// On other processors products and sums are rounded otherwise: there pictures and drawings may
// differ in their last digits, and names and games are compared.
func TestExamplesAreTrue(t *testing.T) {
	for _, name := range builds {
		dir := t.TempDir()
		if err := write(filepath.Join(root, name), dir); err != nil {
			t.Fatal(err)
		}
		kept, made := contents(t, filepath.Join(root, name)), contents(t, dir)
		size := 0
		for path, data := range kept {
			size += len(data)
			if _, ok := made[path]; !ok && path != "rig.toml" && path != "stock.toml" {
				t.Errorf("%s/%s is left over: make examples", name, path)
			}
		}
		if size > 3e6 {
			t.Errorf("%s takes %.1f MB, at most 3 are wanted", name, float64(size)/1e6)
		}
		for path, data := range made {
			old, ok := kept[path]
			isExact := runtime.GOARCH == "amd64" || strings.HasSuffix(path, ".pgn") || strings.HasSuffix(path, ".csv")
			if !ok || isExact && !bytes.Equal(old, data) {
				t.Errorf("%s/%s is not what the program makes of it today: make examples", name, path)
			}
		}
	}
}

// The checks pass, and whoever reads the recorded pictures finds the game that was played.
func TestExamplesPassAndAreRead(t *testing.T) {
	for _, name := range builds {
		dir := filepath.Join(root, name)
		var said, errs bytes.Buffer
		if code := app.Main([]string{"assess", filepath.Join(dir, "rig.toml")}, &said, &errs); code != 0 {
			t.Errorf("assess %s: exit %d\n%s%s", name, code, said.String(), errs.String())
		}
		said.Reset()
		game := filepath.Join(dir, "game")
		if code := app.Main([]string{"watch", "--rig", filepath.Join(game, "rig.toml"), "--frames", game, "--answers", filepath.Join(game, "answers.txt"), "--json"}, &said, &errs); code != 0 {
			t.Fatalf("watch %s: exit %d\n%s", name, code, errs.String())
		}
		pgn, err := os.ReadFile(filepath.Join(game, "game.pgn"))
		if err != nil {
			t.Fatal(err)
		}
		played := 0
		for _, word := range strings.Fields(string(pgn[bytes.LastIndexByte(pgn, ']')+1:])) {
			if !strings.HasSuffix(word, ".") && word != "*" {
				played++
			}
		}
		if read := movesOf(t, said.Bytes()); played == 0 || read != played {
			t.Errorf("%s: %d plies were played, %d are read from the pictures", name, played, read)
		}
	}
}

// movesOf counts the plies by which the position advanced: two pictures in a row of one move
// are one.
func movesOf(t *testing.T, lines []byte) (n int) {
	t.Helper()
	last := ""
	for d := json.NewDecoder(bytes.NewReader(lines)); d.More(); {
		var r struct{ State, Move, Fen string }
		if err := d.Decode(&r); err != nil {
			t.Fatal(err)
		}
		if r.State == "move" && r.Fen != last {
			n, last = n+1, r.Fen
		}
	}
	return n
}
