// SPDX-License-Identifier: Apache-2.0

package rig

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"boardhand/internal/game"
)

func TestDefaultText(t *testing.T) {
	r := Default()
	if r.Board.Square.MM() != 40 || r.Camera.Image != [2]int{1280, 720} || len(r.Cables) != 3 {
		t.Fatalf("default rig was not read: %+v", r)
	}
	if got := r.Board.Kinetic; got != 0.75*r.Board.Friction {
		t.Errorf("kinetic friction %g, want three quarters of %g", got, r.Board.Friction)
	}
	if got, want := r.Gap().MM(), 4.9; got < want-1e-9 || got > want+1e-9 {
		t.Errorf("gap %g mm, want %g", got, want)
	}
	c := r.Board.Centre(0, 7)
	if c.X != -0.14 || c.Y != 0.14 {
		t.Errorf("a8 is centred at %v, want (-0.14, 0.14)", c)
	}
}

// edit replaces the first occurrence of old in the default text.
func edit(t *testing.T, old, repl string) string {
	t.Helper()
	if !strings.Contains(DefaultText, old) {
		t.Fatalf("the default text has no %q", old)
	}
	return strings.Replace(DefaultText, old, repl, 1)
}

func TestErrorsNameTheLine(t *testing.T) {
	for _, c := range []struct{ old, repl, want string }{
		{`square = "40 mm"`, `square = 40`, `rig.toml:8: board.square: "40" has no unit; these fit: mm, cm, m`},
		{`square = "40 mm"`, `square = "40"`, `rig.toml:8: board.square: "40" has no unit`},
		{`square = "40 mm"`, `square = "40 deg"`, `rig.toml:8: board.square: unit "deg" does not fit here`},
		{`square = "40 mm"`, `square = "4 mm"`, `rig.toml:8: board.square must be 15 mm to 80 mm; got 4 mm`},
		{`square = "40 mm"`, `square = "nan mm"`, `rig.toml:8: board.square: "nan mm" is not a number`},
		{`square = "40 mm"`, `sqare = "40 mm"`, `rig.toml:8: unknown key board.sqare; known here: square`},
		{`friction = 0.30`, `friction = "0.30"`, `rig.toml:13: board.friction takes a plain number without unit; got "0.30"`},
		{`friction = 0.30`, `friction = inf`, `rig.toml:13: board.friction must be 0.05 to 1.5; got inf`},
		{`carried = "black"`, `carried = "green"`, `rig.toml:16: pieces.carried must be one of "black", "white", "both"; got "green"`},
		{`image = [1280, 720]`, `image = [1280]`, `camera.image takes 2 values; got 1`},
		{`image = [1280, 720]`, `image = [12, 720]`, `camera.image must be [320–8192, 240–8192] pixels; got 12`},
		{`teeth = 16`, `teeth = 16.5`, `axis.x.teeth takes a whole number; got 16.5`},
		{`grade = "N42"`, `grade = "X1"`, `pieces.magnet.grade`},
		{`[board]`, `[[board]]`, `board must be written as [board]`},
		{`king   = {`, `kong = {`, `unknown key pieces.kong; known here: king`},
		{`base = "17 mm"`, `base = "41 mm"`, `pieces.king.base is 41 mm, wider than its square (40 mm)`},
		{`mass = "150 g"`, `mass = "20 kg"`, `axis.x.moved is 180 g, less than the carriage that it carries (carriage.mass, 20000 g)`},
		{`module = "1 mm"`, ``, `axis.x: a rack needs module and teeth`},
		{`kind = "dc"                 # "dc" or "stepper"`, `kind = "stepper"`, `axis.x.motor: a stepper needs inductance, current (rated, a phase) and full_steps`},
		{`square = "40 mm"`, ``, `board.square is missing; it takes 15 mm to 80 mm`},
		{`[board]`, `[board`, `rig.toml:7: not valid TOML`},
		{`friction = 0.30 `, `friction = 0,30 `, `; write a decimal point: 0.30`},
		{`owned = ["1000 mm"]`, `owned = "1000 mm"`, `cable.owned takes a list in brackets`},
		{`[power]`, `[powr]`, `unknown key powr`},
		{`mode = "hand"`, `mode = "chute"`, `removal.chute is missing: say where the middle of the trapdoor is`},
		{`mode = "hand"`, "mode = \"chute\"\nchute = [\"100 mm\", \"-165 mm\"]", `removal.chute must lie beside the field, at least 168.5 mm from its centre along x or y; got 165 mm`},
	} {
		_, err := Parse("rig.toml", []byte(edit(t, c.old, c.repl)), Machine)
		if err == nil {
			t.Errorf("%q: accepted", c.repl)
			continue
		}
		if !strings.Contains(err.Error(), c.want) {
			t.Errorf("%q:\n got %s\nwant %s", c.repl, err, c.want)
		}
		if strings.Contains(err.Error(), "\n") {
			t.Errorf("%q: more than one line: %s", c.repl, err)
		}
	}
}

// A folder of pictures needs only the keys of the eye.
func TestWatchingNeedsLittle(t *testing.T) {
	text := `
[board]
square = "32 mm"
border = "15 mm"
[pieces]
king = { height = "52 mm", base = "15 mm" }
queen = { height = "48 mm", base = "15 mm" }
bishop = { height = "40 mm", base = "14 mm" }
knight = { height = "36 mm", base = "14 mm" }
rook = { height = "30 mm", base = "14 mm" }
pawn = { height = "26 mm", base = "12 mm" }
[camera]
image = [1280, 720]
hfov = "62 deg"
height = "600 mm"
white_side = "left"
`
	if _, err := Parse("r", []byte(text), Watching); err != nil {
		t.Fatal(err)
	}
	if _, err := Parse("r", []byte(text), Machine); err == nil || !strings.Contains(err.Error(), "is missing") {
		t.Fatalf("as a machine it should lack keys, got %v", err)
	}
}

func TestLoad(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "rig.toml")
	if _, err := Load(path, Watching); err == nil || !strings.Contains(err.Error(), "boardhand new") {
		t.Errorf("missing file: %v", err)
	}
	if err := os.WriteFile(path, []byte(DefaultText), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := Load(path, Machine); err != nil {
		t.Error(err)
	}
	if _, err := Load(dir, Machine); err == nil {
		t.Error("a folder was read as a rig file")
	}
}

// Every limit parses and belongs to a key of the schema.
func TestLimitsBelongToKeys(t *testing.T) {
	s := schema(&game.ChessKinds)
	for k, l := range limits {
		key := strings.Replace(strings.Replace(k, "pieces.*", "pieces.king", 1), "axis.*", "axis.x", 1)
		f, ok := s[key]
		if !ok {
			t.Errorf("limit for unknown key %s", k)
			continue
		}
		if !quantity(f.typ) {
			continue
		}
		lo, err1 := value(f.typ, l.lo)
		hi, err2 := value(f.typ, l.hi)
		if err1 != nil || err2 != nil || lo.Float() >= hi.Float() {
			t.Errorf("%s: limits %q to %q do not parse or are reversed", k, l.lo, l.hi)
		}
	}
	for _, k := range Machine(&game.ChessKinds) {
		if _, ok := s[k]; !ok {
			t.Errorf("required key %s is not in the schema", k)
		}
	}
}

func FuzzParse(f *testing.F) {
	f.Add([]byte(DefaultText))
	f.Add([]byte("[board]\nsquare = 1e400\n"))
	f.Add([]byte("[[cable]]\nowned=[[],{}]\n"))
	f.Add([]byte("pieces = {king = {height = \"1 mm\"}}"))
	f.Fuzz(func(t *testing.T, data []byte) {
		r, err := Parse("f", data, func(*game.Kinds) []string { return nil })
		if (r == nil) == (err == nil) {
			t.Fatalf("rig %v with error %v", r, err)
		}
	})
}

// A lens sold as 78° across the diagonal of 16:9 has 70.4° across the width: its half
// diagonal of √(16² + 9²) and its half width of 16 lie on one tangent each. One of 120°
// bends; its angles go with the pixels. Both ways of saying it at once are refused.
func TestDiagonalAngle(t *testing.T) {
	for diagonal, want := range map[string]float64{"78": 2 * math.Atan(math.Tan(39*math.Pi/180)*16/math.Sqrt(337)), "120": 120 * math.Pi / 180 * 16 / math.Sqrt(337)} {
		r, err := Parse("rig.toml", []byte(edit(t, `hfov = "62 deg"`, `dfov = "`+diagonal+` deg"`)), Machine)
		if err != nil || math.Abs(float64(r.Camera.HFOV)-want) > 1e-9 {
			t.Fatalf("%s°: %v, want %g; %v", diagonal, r.Camera.HFOV, want, err)
		}
	}
	if _, err := Parse("rig.toml", []byte(edit(t, `hfov = "62 deg"`, "hfov = \"62 deg\"\ndfov = \"78 deg\"")), Machine); err == nil || !strings.Contains(err.Error(), "keep the one") {
		t.Errorf("both at once: %v", err)
	}
}

// A file that an editor saved with a byte order mark is the same file, and its errors name
// the same lines.
func TestByteOrderMark(t *testing.T) {
	if _, err := Parse("rig.toml", []byte("\ufeff"+DefaultText), Machine); err != nil {
		t.Error(err)
	}
	_, plain := Parse("rig.toml", []byte("x = 1"), Machine)
	_, marked := Parse("rig.toml", []byte("\ufeffx = 1"), Machine)
	if plain == nil || marked == nil || plain.Error() != marked.Error() {
		t.Errorf("%v, with the mark %v", plain, marked)
	}
}
