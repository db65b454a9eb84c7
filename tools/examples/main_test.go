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
	"boardhand/internal/materials"
	"boardhand/internal/propose"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
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

// partsOf is an example's rig and what it takes.
func partsOf(t *testing.T, name string) (*rig.Rig, materials.List) {
	t.Helper()
	r, err := rig.Load(filepath.Join(root, name, "rig.toml"), rig.Machine)
	if err != nil {
		t.Fatal(err)
	}
	stock, err := propose.LoadStock(filepath.Join(root, name, "stock.toml"))
	if err != nil {
		t.Fatal(err)
	}
	return r, materials.Of(r, stock)
}

// What a person with a rule would check before ordering: the board lies on the walls, guides go
// between them, leads reach both ends of the travel, and there is a magnet for each piece.
func TestExamplesFitTogether(t *testing.T) {
	for name, magnets := range map[string]int{"pocket": 16, "club": 32} {
		r, l := partsOf(t, name)
		for i, a := range []struct{ travel, body, wall, field unit.Length }{
			{r.Axis.X.Travel, r.Carriage.Left + r.Carriage.Right, r.Walls.Left + r.Walls.Right, 8 * r.Board.Square},
			{r.Axis.Y.Travel, r.Carriage.Front + r.Carriage.Back, r.Walls.Front + r.Walls.Back, 8 * r.Board.Square},
		} {
			board, outer := a.field+2*r.Board.Border, a.wall+2*r.Walls.Depth()
			if d := board - outer; d > unit.MM(0.1) || d < -unit.MM(0.1) {
				t.Errorf("%s, axis %d: the board is %s, the walls' outer faces are %s apart", name, i, board, outer)
			}
			if guide := a.travel + a.body + unit.MM(40); guide > a.wall+unit.MM(0.1) {
				t.Errorf("%s, axis %d: a guide of %s does not go between walls %s apart", name, i, guide, a.wall)
			}
		}
		for _, lead := range l.Wiring.Leads {
			reach := lead.Fixed
			for _, axis := range lead.Moves {
				reach += map[string]unit.Length{"x": r.Axis.X.Travel, "y": r.Axis.Y.Travel}[axis] / 2
			}
			if lead.Takes < reach || lead.Source == "make" {
				t.Errorf("%s: the lead to the %s is %s (%s), to the end of the travel it is %s", name, lead.Name, lead.Takes, lead.Source, reach)
			}
		}
		if l.Magnets.Count != magnets || l.Fixing.Lacks != "" {
			t.Errorf("%s: %d magnets in bases, want %d; the board: %q", name, l.Magnets.Count, magnets, l.Fixing.Lacks)
		}
	}
}

// Elements and panels by plain sums: the elements of a course are as long as the ring, and the
// panels' parts are a box.
func TestExamplesWallsAddUp(t *testing.T) {
	r, l := partsOf(t, "club")
	in := r.Walls.Inside()
	ring := 2 * (in[0] + in[1] + 2*r.Walls.Depth()).MM() / 8 // units of 8 mm: two walls through the corners, two between
	courses := r.Walls.Height.MM() / 9.6
	units := 0
	full, plates := l.Walls.Ring.Counts()
	for length, n := range full {
		units += length * n
	}
	if want := int(ring*courses + 0.5); units != want || len(plates) > 0 {
		t.Errorf("elements of %d units together, want %.0f in each of %.0f courses: %d", units, ring, courses, want)
	}
	r, l = partsOf(t, "pocket")
	in, thick := r.Walls.Inside(), r.Walls.Thick
	want := 2*(in[0]+2*thick)*r.Walls.Height + 2*in[1]*r.Walls.Height + (in[0]+2*thick)*(in[1]+2*thick)
	got := unit.Length(0)
	for _, p := range l.Walls.Parts {
		got += unit.Length(p.Count) * p.Width * p.Height
	}
	if d := float64(got - want); d > 1e-9 || d < -1e-9 {
		t.Errorf("parts of %.4f m², a box has %.4f", float64(got), float64(want))
	}
}
