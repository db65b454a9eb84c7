// SPDX-License-Identifier: Apache-2.0

package records

import (
	"bytes"
	"encoding/json"
	"errors"
	"strings"
	"testing"
	"time"

	"boardhand/internal/chess"
	"boardhand/internal/rig"
	"boardhand/internal/store"
	"boardhand/internal/store/damage"
	"boardhand/internal/terminal"
)

// evening is when the kept games began.
var evening = time.Date(2026, 3, 4, 20, 0, 0, 0, time.Local)

// kept is one game of a store: so many plies, and how it ended.
type kept struct {
	plies          int
	result, reason string
	rig            string // text of its rig file; "": as an older program kept it
}

// keep makes a store of games and the screen to print them on.
func keep(t *testing.T, games ...kept) (dir string, o *terminal.Out, out, errs *bytes.Buffer) {
	t.Helper()
	dir = t.TempDir()
	s, err := store.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = s.Close() }()
	start := chess.Start()
	for _, g := range games {
		id, err := s.Begin(t.Context(), store.Game{Started: evening, Rig: "mine/rig.toml", RigText: g.rig, Machine: "black", Start: start.FEN()})
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range []string{"e2e4", "e7e5", "g1f3"}[:g.plies] {
			e := store.Entry{At: evening, State: "guest", Move: m, Note: "played " + m, Event: "guest_moved", Detail: `{"move":"` + m + `"}`}
			if err := s.Append(t.Context(), id, e, []byte("jpeg")); err != nil {
				t.Fatal(err)
			}
		}
		if g.reason != "" {
			if err := s.Finish(t.Context(), id, g.result, g.reason); err != nil {
				t.Fatal(err)
			}
		}
	}
	out, errs = &bytes.Buffer{}, &bytes.Buffer{}
	return dir, &terminal.Out{W: out, Err: errs}, out, errs
}

// open opens a store to read.
func open(t *testing.T, dir string, o *terminal.Out) *store.Store {
	t.Helper()
	s, err := OpenGames(o, dir)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = s.Close() })
	return s
}

// The newest game comes first; what can be done with them is said below.
func TestListGames(t *testing.T) {
	dir, o, out, _ := keep(t, kept{plies: 1}, kept{3, "1-0", "resignation", ""})
	if err := ListGames(t.Context(), o, dir); err != nil {
		t.Fatal(err)
	}
	want := "game  begun             plies  result   how it ended\n" +
		"   2  2026-03-04 20:00      3  1-0      resignation\n" +
		"   1  2026-03-04 20:00      1  *        unfinished\n" +
		"\n" +
		"Go on with game 1:  boardhand play RIG --resume\n" +
		"As PGN:  boardhand games pgn 2     what happened:  boardhand games log 2\n" +
		"Its pictures read again:  boardhand games watch 2\n"
	if out.String() != want {
		t.Errorf("listed\n%s\nwant\n%s", out, want)
	}
}

// A store without games lists nothing; one whose games are all over offers none to go on with.
func TestListOfFew(t *testing.T) {
	dir, o, out, _ := keep(t)
	if err := ListGames(t.Context(), o, dir); err != nil || out.Len() > 0 {
		t.Errorf("%v\n%s", err, out)
	}
	dir, o, out, _ = keep(t, kept{1, "1/2-1/2", "agreement", ""})
	if err := ListGames(t.Context(), o, dir); err != nil || strings.Contains(out.String(), "Go on") || !strings.Contains(out.String(), "1/2-1/2  agreement") {
		t.Errorf("%v\n%s", err, out)
	}
}

// Programs get an object a game; of a damaged one only that it is.
func TestListForPrograms(t *testing.T) {
	dir, o, out, _ := keep(t, kept{plies: 1}, kept{plies: 2})
	damage.Do(t, dir, "UPDATE game SET started='yesterday' WHERE id=2")
	o.JSON = true
	_ = ListGames(t.Context(), o, dir) // says that one is damaged, once all are listed
	var lines []map[string]any
	for d := json.NewDecoder(out); d.More(); {
		var l map[string]any
		if err := d.Decode(&l); err != nil {
			t.Fatal(err)
		}
		lines = append(lines, l)
	}
	if len(lines) != 2 || lines[0]["started"] != nil || !strings.Contains(lines[0]["damaged"].(string), "game 2 is damaged") || lines[1]["plies"] != 1.0 || lines[1]["machine"] != "black" {
		t.Errorf("%v", lines)
	}
}

// One ply is a ply, and damage of one game hides no other.
func TestCheckGames(t *testing.T) {
	dir, o, out, _ := keep(t, kept{plies: 1}, kept{plies: 3})
	if err := CheckGames(t.Context(), o, dir); err != nil {
		t.Errorf("a whole store: %v\n%s", err, out)
	}
	for _, want := range []string{"games.sqlite: whole\n", "game 1: whole, 1 ply, 1 entry, 1 picture\n", "game 2: whole, 3 plies, 3 entries, 3 pictures\n"} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("no %q in\n%s", want, out)
		}
	}
	damage.Do(t, dir, "UPDATE entry SET note='other' WHERE game=2 AND n=2")
	out.Reset()
	if err := CheckGames(t.Context(), o, dir); !errors.Is(err, terminal.ErrNo) || !strings.Contains(out.String(), "game 2, entry 2 is damaged") || !strings.Contains(out.String(), "game 1: whole") {
		t.Errorf("a damaged store: %v\n%s", err, out)
	}
}

func TestPruneGames(t *testing.T) {
	dir, o, out, _ := keep(t, kept{1, "1-0", "resignation", ""}, kept{2, "1-0", "resignation", ""}, kept{plies: 3})
	if err := PruneGames(o, dir, 20); err != nil || !strings.HasPrefix(out.String(), "removed the pictures of 1 game: 4 B; 20 B of pictures are left, ") {
		t.Errorf("%v\n%s", err, out)
	}
	out.Reset()
	if o.JSON = true; PruneGames(o, dir, 0) != nil || out.String() != `{"freed_bytes":8,"games":[2],"kept_bytes":12}`+"\n" {
		t.Errorf("the last game keeps its own: %s", out)
	}
}

func TestPrintLog(t *testing.T) {
	dir, o, out, _ := keep(t, kept{plies: 2})
	s := open(t, dir, o)
	if err := PrintLog(t.Context(), o, s, 1); err != nil {
		t.Fatal(err)
	}
	want := "    1  2026-03-04 20:00:00  guest      e2e4   played e2e4\n    2  2026-03-04 20:00:00  guest      e7e5   played e7e5\nPictures: " + s.Pictures(1) + "\n"
	if out.String() != want {
		t.Errorf("printed\n%s\nwant\n%s", out, want)
	}
	out.Reset()
	o.JSON = true
	if err := PrintLog(t.Context(), o, s, 1); err != nil || !strings.Contains(out.String(), `"event":"guest_moved","detail":{"move":"e2e4"}`) {
		t.Errorf("%v\n%s", err, out)
	}
	if err := PrintLog(t.Context(), o, s, 7); err == nil || !strings.Contains(err.Error(), "7") {
		t.Errorf("a game that is not there: %v", err)
	}
}

// What happened without a sentence is told by its name; a detail that is no JSON is text.
func TestEntriesWithoutASentence(t *testing.T) {
	var out bytes.Buffer
	o := &terminal.Out{W: &out}
	if err := printEntry(o, store.Entry{N: 3, At: evening, State: "guest", Event: "camera_back", Back: "e2e4"}); err != nil || !strings.HasSuffix(out.String(), "guest      e2e4   camera back\n") {
		t.Errorf("%v %q", err, out.String())
	}
	out.Reset()
	o.JSON = true
	if err := printEntry(o, store.Entry{N: 3, At: evening, Detail: "not {json"}); err != nil || !strings.Contains(out.String(), `"detail":"not {json"`) {
		t.Errorf("%v %q", err, out.String())
	}
	out.Reset()
	if err := printEntry(o, store.Entry{N: 4, Note: "untrue", Damaged: errors.New("entry 4 is damaged")}); err != nil || strings.Contains(out.String(), "untrue") {
		t.Errorf("what a damaged entry says is printed: %v %q", err, out.String())
	}
}

// Of a damaged game the PGN ends before the damage, and the damage is said.
func TestPrintPGN(t *testing.T) {
	dir, o, out, _ := keep(t, kept{plies: 3})
	s := open(t, dir, o)
	if err := PrintPGN(t.Context(), o, s, 1); err != nil || !strings.Contains(out.String(), "\n1. e4 e5 2. Nf3 *\n") {
		t.Errorf("%v\n%s", err, out)
	}
	damage.Do(t, dir, "UPDATE entry SET note='other' WHERE n=2")
	out.Reset()
	if err := PrintPGN(t.Context(), o, s, 1); err == nil || !strings.Contains(out.String(), "\n1. e4 *\n") {
		t.Errorf("%v\n%s", err, out)
	}
}

// The rig is the one that the game began with; a game of an older program has none.
func TestPrintRig(t *testing.T) {
	dir, o, out, errs := keep(t, kept{rig: rig.DefaultText}, kept{})
	s := open(t, dir, o)
	if err := PrintRig(t.Context(), o, s, 1); err != nil || out.String() != rig.DefaultText {
		t.Errorf("%v, %d bytes", err, out.Len())
	}
	if err := PrintRig(t.Context(), o, s, 2); !errors.Is(err, terminal.ErrNo) || !strings.Contains(errs.String(), "it was mine/rig.toml") {
		t.Errorf("%v %s", err, errs)
	}
}
